package dev.lengthwise.logic.proof;

import dev.lengthwise.logic.sat.Sat;
import java.util.Locale;
import java.util.Objects;
import java.util.OptionalLong;

/**
 * The outcome of comparing a network with what it should be.
 *
 * @param proved true if they agree at every point that matters, each of them looked at or decided
 *     by a solver
 * @param method how: {@code "exhaustive"} or {@code "satisfiability"}
 * @param points the points looked at; 0 for a solver
 * @param differsAt the lowest point found at which an output is wrong, input 0 being its least
 *     significant bit; empty if none was found, or if the inputs exceed 63
 * @param detail one sentence for a report
 */
public record Proof(
    boolean proved, String method, long points, OptionalLong differsAt, String detail) {

  /**
   * Checks that nothing is missing.
   *
   * @param proved see Proof
   * @param method see Proof
   * @param points see Proof
   * @param differsAt see Proof
   * @param detail see Proof
   */
  public Proof {
    Objects.requireNonNull(method, "method");
    Objects.requireNonNull(differsAt, "differsAt");
    Objects.requireNonNull(detail, "detail");
  }

  static Proof exhaustive(long points) {
    return new Proof(
        true,
        "exhaustive",
        points,
        OptionalLong.empty(),
        String.format(Locale.ROOT, "agrees at all %d points", points));
  }

  static Proof differs(String method, long points, OptionalLong at, String output) {
    return new Proof(
        false,
        method,
        points,
        at,
        String.format(
            Locale.ROOT,
            "output %s is wrong%s",
            output,
            at.isPresent() ? " at point " + Long.toUnsignedString(at.getAsLong()) : ""));
  }

  static Proof solved(Sat.Verdict verdict) {
    return new Proof(
        verdict == Sat.Verdict.UNSATISFIABLE,
        "satisfiability",
        0,
        OptionalLong.empty(),
        "the solver says a difference is " + verdict.name().toLowerCase(Locale.ROOT));
  }
}
