package dev.lengthwise.verilog;

import dev.lengthwise.testing.CoreSamples;
import dev.lengthwise.testing.Doors;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** Holds what this module shows to everybody. */
class DoorsTest {

  @Test
  void exports_areFacesOnly() throws Exception {
    Doors.ofThisModule().checkCount(2);
  }

  @Test
  void factories_followOneRule() throws Exception {
    Doors.ofThisModule().checkFactories(CoreSamples.calls(), Set.of());
  }

  @Test
  void nulls_areRefusedEverywhere() throws Exception {
    CoreSamples.calls()
        .with(Verilog.class, Verilog::new)
        .with(VerilogOptions.LutForm.class, VerilogOptions.LutAssignment::new)
        .with(
            VerilogOptions.LutPrimitive.class,
            () -> new VerilogOptions.LutPrimitive("lut", "rows", List.of("a", "b"), "y"))
        .check(Doors.ofThisModule().types(), 12);
  }

  @Test
  void signatures_nameWhatEverybodyCanName() throws Exception {
    Doors.ofThisModule().checkSignatures();
  }
}
