package dev.lengthwise.work;

import dev.lengthwise.cancel.CancelledException;
import java.util.concurrent.CancellationException;
import java.util.concurrent.ForkJoinTask;
import java.util.concurrent.FutureTask;
import java.util.function.Supplier;

/** Work that ends when the thread that asked for it is interrupted. */
public final class Work {

  private Work() {}

  /**
   * Ends the work if this thread is interrupted; takes a nanosecond.
   *
   * @throws CancelledException if it is; the flag stays set
   */
  public static void check() {
    if (Thread.currentThread().isInterrupted()) {
      throw CancelledException.of(null);
    }
  }

  /**
   * Sets the flag of this thread, as what reports an interrupt may clear it.
   *
   * @param interrupt what reports it
   * @return what to throw
   */
  public static CancelledException cancelled(Exception interrupt) {
    Thread.currentThread().interrupt();
    return CancelledException.of(interrupt);
  }

  /**
   * Does work in which streams are parallel, on a thread for each processor; where this thread is
   * one of {@link Workers} already, on those. A parallel stream that waits for the common pool
   * cannot be interrupted.
   *
   * @param work what to do; it may be done by another thread
   * @param <T> what it returns
   * @return what the work returns
   * @throws CancelledException if this thread is interrupted; then no part of the work goes on
   */
  public static <T> T parallel(Supplier<T> work) {
    if (ForkJoinTask.inForkJoinPool()) {
      return work.get();
    }
    check();
    try (Workers workers = Workers.of(Runtime.getRuntime().availableProcessors())) {
      return workers.listen(work);
    }
  }

  /**
   * Tells the caller of {@link #parallel} something, on its own thread: what a user listens with
   * may belong to a class that this thread is only initialising, which no other thread could then
   * enter. On a thread of no such work it is told at once.
   *
   * @param news what to do there
   */
  public static void tell(Runnable news) {
    Workers workers = Workers.ofThisThread();
    if (workers == null) {
      news.run();
    } else {
      workers.tell(news);
    }
  }

  /**
   * Begins work beside what this thread goes on with; within {@link #parallel} or a thread of
   * {@link Workers}.
   *
   * @param work what to do
   * @param <T> what it returns
   * @return waits for the work and returns what it returns
   */
  public static <T> Supplier<T> beside(Supplier<T> work) {
    FutureTask<T> task = new FutureTask<>(work::get);
    ForkJoinTask<?> forked = ForkJoinTask.adapt(task).fork();
    return () -> {
      try {
        forked.join();
      } catch (CancellationException e) {
        throw cancelled(e);
      }
      return Workers.result(task);
    };
  }
}
