package dev.lengthwise.vhdl;

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
        .with(Vhdl.class, Vhdl::new)
        .with(VhdlOptions.LutForm.class, VhdlOptions.LutAssignment::new)
        .with(
            VhdlOptions.LutComponent.class,
            () -> new VhdlOptions.LutComponent("parts", "lut", "rows", List.of("a", "b"), "y"))
        .check(Doors.ofThisModule().types(), 13);
  }

  @Test
  void signatures_nameWhatEverybodyCanName() throws Exception {
    Doors.ofThisModule().checkSignatures();
  }
}
