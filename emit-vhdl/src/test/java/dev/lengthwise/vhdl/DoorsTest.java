package dev.lengthwise.vhdl;

import dev.lengthwise.testing.Doors;
import org.junit.jupiter.api.Test;

/** Holds what this module shows to everybody. */
class DoorsTest {

  @Test
  void exports_areFacesOnly() throws Exception {
    Doors.ofThisModule().checkCount(2);
  }

  @Test
  void signatures_nameWhatEverybodyCanName() throws Exception {
    Doors.ofThisModule().checkSignatures();
  }
}
