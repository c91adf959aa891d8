package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.TextSink;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import org.apache.commons.text.StringSubstitutor;
import org.apache.commons.text.lookup.StringLookup;

/**
 * The small functions that a block declares for what the 1993 edition has no operator for, or none
 * that keeps unknown bits unknown; only those that it calls.
 */
final class Functions {

  /** Why a truth table gets a bit in front; GHDL 2.0 is such a synthesizer. */
  static final String LEADING_ZERO =
      "The 0 in front is for synthesizers that take a constant whose only ones are in its first 32"
          + " bits for zero.";

  /** A function: its comment and text; words in ${} are names to be made unique. */
  enum Kind {
    /** One physical LUT. */
    LUT_OF(
        "One LUT: bit i of the truth table is the output while the inputs count i. "
            + Functions.LEADING_ZERO,
        """
        function ${lut_of}(${table_bits}, ${inputs} : std_logic_vector) return std_logic is
          constant ${numbered} : std_logic_vector(${table_bits}'length downto 0) := '0' & ${table_bits};
        begin
          if is_x(${inputs}) then
            return 'X';
          end if;
          return ${numbered}(to_integer(unsigned(${inputs})));
        end function ${lut_of};"""),
    /** Equality. */
    IS_EQUAL(
        "'1' if the vectors are equal; unknown while one of their bits is.",
        """
        function ${is_equal}(${left}, ${right} : std_logic_vector) return std_logic is
        begin
          if is_x(${left} xor ${right}) then
            return 'X';
          elsif ${left} = ${right} then
            return '1';
          end if;
          return '0';
        end function ${is_equal};"""),
    /** Order. */
    IS_BELOW(
        "'1' if the left number is less than the right; unknown while one of their bits is.",
        """
        function ${is_below}(${left}, ${right} : std_logic_vector) return std_logic is
        begin
          if is_x(${left} xor ${right}) then
            return 'X';
          elsif unsigned(${left}) < unsigned(${right}) then
            return '1';
          end if;
          return '0';
        end function ${is_below};"""),
    /** Reduction by AND. */
    AND_ALL("'1' if all bits are.", reduction("and_all", "and", '1')),
    /** Reduction by OR. */
    OR_ALL("'1' if a bit is.", reduction("or_all", "or", '0')),
    /** Reduction by XOR. */
    XOR_ALL("'1' if an odd number of bits is.", reduction("xor_all", "xor", '0'));

    private final String comment;
    private final String text;

    Kind(String comment, String text) {
      this.comment = comment;
      this.text = text;
    }

    private static String reduction(String name, String operator, char start) {
      return """
      function ${NAME}(${vector} : std_logic_vector) return std_logic is
        variable ${reduced} : std_logic := 'START';
      begin
        for ${i} in ${vector}'range loop
          ${reduced} := ${reduced} OPERATOR ${vector}(${i});
        end loop;
        return ${reduced};
      end function ${NAME};"""
          .replace("NAME", name)
          .replace("START", String.valueOf(start))
          .replace("OPERATOR", operator);
    }

    private String wish() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  private final EmissionPlan plan;
  private final Map<Kind, String> called = new EnumMap<>(Kind.class);

  Functions(EmissionPlan plan) {
    this.plan = plan;
  }

  /** Returns a call. */
  Expression call(Kind kind, String arguments) {
    String name = called.computeIfAbsent(kind, k -> plan.newName(k.wish()));
    return new Expression(name + "(" + arguments + ")", Expression.Binding.CLOSED);
  }

  /** Declares what was called. */
  void declare(TextSink sink) {
    Map<String, String> names = new HashMap<>();
    called.forEach((kind, name) -> names.put(kind.wish(), name));
    StringSubstitutor substitutor =
        new StringSubstitutor((StringLookup) word -> names.computeIfAbsent(word, plan::newName));
    for (Kind kind : called.keySet()) {
      sink.blank().comment("--", kind.comment);
      substitutor.replace(kind.text).lines().forEach(sink::line);
    }
  }
}
