package dev.lengthwise.study;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.study.accuracy.AccuracyProfile;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.testing.CallsTools;
import org.junit.jupiter.api.Test;

/** Compares accuracy on a whole library with counts made by hand from objdump's listing. */
@CallsTools
class AccuracyObjdumpTest {

  private static final InstructionSet SET = Libc32.TRUTH.instructionSet();

  @Test
  void accuracy_threeLanes_equalsCountsOfTheListing() {
    AccuracyProfile profile = AccuracyProfile.of(Libc32.stream(), Libc32.TRUTH, Ia32.MODES_32);
    ListingShares listing = new ListingShares(Libc32.FILE);
    assertThat(profile.executed()).isEqualTo(listing.all());

    Predecoder opcodeAlone =
        Predecoder.builder(SET)
            .depth(SpecifierDepth.NONE)
            .lookahead(0)
            .prefixes(PrefixTreatment.NOT_HANDLED)
            .build();
    assertThat(profile.accuracy(opcodeAlone).exact()).isEqualTo(listing.opcodeAlone());

    Predecoder oneByteMap =
        Predecoder.builder(SET)
            .leaveOut("one_byte", 0x0f)
            .leaveOut("one_byte", 0xf6, 0xf7)
            .leaveOut("vex2_0f", 0x00, 0xff)
            .leaveOut("vex3_0f", 0x00, 0xff)
            .leaveOut("vex3_0f38", 0x00, 0xff)
            .leaveOut("vex3_0f3a", 0x00, 0xff)
            .longest(6)
            .build();
    assertThat(profile.accuracy(oneByteMap).exact()).isEqualTo(listing.oneByteMap());

    Predecoder onePrefix =
        Predecoder.builder(SET).prefixes(PrefixTreatment.folded(1)).lookahead(5).longest(8).build();
    assertThat(profile.accuracy(onePrefix).exact()).isEqualTo(listing.everythingWithOnePrefix());
  }
}
