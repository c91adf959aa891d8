package dev.lengthwise.architecture;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.testing.CoreSamples;
import dev.lengthwise.testing.Doors;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** Holds what this module shows to everybody. */
class DoorsTest {

  @Test
  void exports_areFacesOnly() throws Exception {
    Doors.ofThisModule().checkCount(101);
  }

  @Test
  void factories_followOneRule() throws Exception {
    // The signals of a circuit belong to its builder.
    Doors.ofThisModule().checkFactories(CoreSamples.calls(), Set.of(Circuit.class));
  }

  @Test
  void nulls_areRefusedEverywhere() throws Exception {
    CoreSamples.calls().check(Doors.ofThisModule().types(), 490);
  }

  @Test
  void signatures_nameWhatEverybodyCanName() throws Exception {
    Doors.ofThisModule().checkSignatures();
  }
}
