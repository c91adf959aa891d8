package dev.lengthwise.testbench.bench;

import dev.lengthwise.name.HdlName;
import dev.lengthwise.name.NameAllocator;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * What a bench calls the signals at the ports of its design. Every word of the bench's own text is
 * taken before, so that a port may be called like a variable, a function or a label of the bench.
 */
public final class BenchNames {

  private static final Pattern COMMENTS_AND_STRINGS = Pattern.compile("(?m)\"[^\"]*\"|(//|--).*$");
  private static final Pattern WORD = Pattern.compile("[A-Za-z][A-Za-z0-9_]*");

  private final String prefix;
  private final NameAllocator allocator = new NameAllocator();
  private final Map<String, String> signals = new LinkedHashMap<>();

  /**
   * Takes the words of a bench.
   *
   * @param design the name of the design
   * @param template the text, in Verilog or VHDL
   * @param counters the counters {@code counted_0}, {@code counted_1} ... that it gets besides
   * @param prefix what the signals at ports begin with
   */
  public BenchNames(String design, String template, int counters, String prefix) {
    this.prefix = prefix;
    Matcher words = WORD.matcher(COMMENTS_AND_STRINGS.matcher(template).replaceAll(" "));
    while (words.find()) {
      take(words.group().toLowerCase(Locale.ROOT));
    }
    Stream.of(design, design + "_tb").forEach(this::take);
    for (int i = 0; i < counters; i++) {
      take("counted_" + i);
    }
  }

  /** No signal is called by a word that no user's name is either. */
  private void take(String word) {
    if (HdlName.fault(word).isEmpty()) {
      allocator.reserve(word);
    }
  }

  /** Returns the signal at a port; the same one for the same port. */
  public String of(String port) {
    return signals.computeIfAbsent(port, name -> signal(prefix + name));
  }

  /** A long name stays whole: only one that is taken is cut to make room for its number. */
  private String signal(String wish) {
    return allocator.isTaken(wish) ? allocator.allocate(wish) : allocator.reserve(wish);
  }
}
