package dev.lengthwise.testbench.cycle;

import dev.lengthwise.cache.FetchUnit;
import java.util.List;

/** The fields of a cycle of a fetch unit. */
public final class FetchFields extends CycleFields {

  /** Every cycle; the other bits of {@code checks} are those of a row of lanes. */
  public static final int ALWAYS = 4;

  private final FetchUnit unit;

  /**
   * Lists the fields of a fetch unit.
   *
   * @param unit the fetch unit
   */
  public FetchFields(FetchUnit unit) {
    this.unit = unit;
    int addressBits = unit.cache().geometry().addressBits();
    output("flush_ready", 1, ALWAYS);
    output("request_valid", 1, ALWAYS);
    output("request_address", addressBits, ALWAYS, "request_valid");
    output("access_hit", 1, ALWAYS);
    output("access_miss", 1, ALWAYS);
    output("access_evicts", 1, ALWAYS);
    output("marks_valid", 1, ALWAYS);
    output("window_address", addressBits, ALWAYS, "marks_valid");
    output("window", 8 * unit.row().windowBytes(), ALWAYS, "marks_valid");
    ArrayFields.addState(this, unit.row());
    ArrayFields.addMarks(this, unit.row());
    input("stall", 1);
    input("redirect", 1);
    input("redirect_address", addressBits);
    for (String mode : unit.row().lane().instructionSet().table().modes()) {
      input(mode, 1);
    }
    input("flush", 1);
    input("flush_all", 1);
    input("flush_address", addressBits);
    input("request_ready", 1);
    input("beat_valid", 1);
    input("beat", 8 * unit.beatBytes());
    counter("windows shown", -1, List.of("marks_valid"), List.of("stall"));
    counter("redirects", -1, List.of("redirect"), List.of());
    counter("stalls", -1, List.of("stall"), List.of());
    counter("flushes", -1, List.of("flush", "flush_ready"), List.of());
    counter("hits", -1, List.of("access_hit"), List.of());
    counter("misses", -1, List.of("access_miss"), List.of());
    counter("evictions", -1, List.of("access_evicts"), List.of());
  }

  public FetchUnit unit() {
    return unit;
  }
}
