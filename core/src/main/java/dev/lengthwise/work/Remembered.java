package dev.lengthwise.work;

import java.lang.ref.SoftReference;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Supplier;

/**
 * The answers to the last few questions, for functions that take seconds and are asked the same
 * again by parts of a program that do not know of each other. A question is a value: an answer is
 * given again only to an equal one. For several threads, which may work out the same at once; what
 * is remembered gives way when memory is short.
 *
 * @param <Q> a question, with {@code equals} over all that the answer depends on
 * @param <A> an answer, immutable
 */
public final class Remembered<Q, A> {

  private final int most;
  private SoftReference<Map<Q, A>> held = new SoftReference<>(null);

  /**
   * Remembers nothing yet.
   *
   * @param most the most answers kept; the one asked for the longest ago goes first
   */
  public Remembered(int most) {
    this.most = most;
  }

  /**
   * Returns the answer to a question.
   *
   * @param question the question
   * @param work works it out, if it is not remembered; what it throws is not
   * @return the answer
   */
  public A answer(Q question, Supplier<A> work) {
    Work.check();
    synchronized (this) {
      A known = answers().get(question);
      if (known != null) {
        return known;
      }
    }
    A found = work.get();
    synchronized (this) {
      Map<Q, A> answers = answers();
      answers.put(question, found);
      if (answers.size() > most) {
        answers.remove(answers.keySet().iterator().next());
      }
    }
    return found;
  }

  private Map<Q, A> answers() {
    Map<Q, A> answers = held.get();
    if (answers == null) {
      answers = new LinkedHashMap<>(16, 0.75f, true);
      held = new SoftReference<>(answers);
    }
    return answers;
  }
}
