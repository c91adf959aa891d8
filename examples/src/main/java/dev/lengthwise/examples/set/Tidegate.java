package dev.lengthwise.examples.set;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.ModeCondition;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;

/**
 * The instruction set of Tidegate, an invented controller of a tidal lock gate.
 *
 * <p>Bytes: one-byte opcodes in two maps, one mode (wide level readings), two prefixes, and an
 * operand specifier that names a sluice, a gauge or a place in the log.
 */
public final class Tidegate {

  /** The mode that is 1 while level readings and immediates are wide. */
  public static final String WIDE = "wide";

  private static final OperandSpecifier PLACE =
      OperandSpecifier.named("place")
          .when("00xx_x0xx", 0) // a register
          .when("00xx_x10x", 0) // a sluice by number
          .when("00xx_x110", 1) // a gauge: its number follows
          .when(ModeCondition.off(WIDE), "00xx_x111", 2) // a place in the log
          .when(ModeCondition.on(WIDE), "00xx_x111", "xxxx_xxx0", 3) // far, an even tag
          .when(ModeCondition.on(WIDE), "00xx_x111", "xxxx_xxx1", 5) // far, tagged with a tide
          .when("01xx_xxxx", 1) // a register and a near offset
          .when("10xx_xxxx", 2) // a register and a far offset
          .when("11xx_xxxx", 0) // two registers
          .build();

  private Tidegate() {}

  /**
   * Returns the description.
   *
   * @return two maps, one mode, two prefixes; instructions of up to 12 bytes, prefixes counted
   */
  public static InstructionSet instructionSet() {
    LengthTable table =
        LengthTable.named("tidegate")
            .mode(WIDE)
            .map("base", Tidegate::base)
            .map("survey", Tidegate::survey)
            .build();
    PrefixRules prefixes = PrefixRules.builder().flips(0xf0, WIDE).inert(0xf1).most(3).build();
    return InstructionSet.of(table, prefixes, 12);
  }

  /**
   * Returns the lane that the examples build.
   *
   * @return it reads four bytes, says lengths up to eight, counts a prefix as an item of its own,
   *     and leaves the alarm levels to the slow path
   */
  public static Predecoder lane() {
    return Predecoder.builder(instructionSet())
        .lookahead(3)
        .longest(8)
        .prefixes(PrefixTreatment.ONE_UNIT_EACH)
        .leaveOut("survey", 0x30, 0x3f)
        .build();
  }

  private static void base(OpcodeMap.Builder map) {
    gates(map);
    levels(map);
    control(map);
  }

  private static void gates(OpcodeMap.Builder map) {
    map.row(0x00).bytes(1); // rest
    map.row(0x01).bytes(1); // hold all
    map.row(0x02).bytes(1); // release all
    map.row(0x03).bytes(2); // hold one
    map.rows(0x04, 0x07).bytes(1); // open leaf 0-3
    map.rows(0x08, 0x0b).bytes(1); // close leaf 0-3
    map.rows(0x0c, 0x0f).bytes(2); // set leaf to
    map.rows(0x10, 0x17).bytes(2).specifier(PLACE); // open sluice
    map.rows(0x18, 0x1f).bytes(2).specifier(PLACE); // close sluice
    map.row(0x20).bytes(3).specifier(PLACE); // crack sluice by
    map.row(0x21).bytes(3).grows(WIDE, 1).specifier(PLACE); // fill to level
    map.row(0x22).bytes(3).grows(WIDE, 1).specifier(PLACE); // drain to level
    map.row(0x23).bytes(2).specifier(PLACE); // balance
    map.rows(0x24, 0x27).bytes(2); // lamp
    map.rows(0x28, 0x2b).bytes(1); // horn
    map.row(0x2c).bytes(4); // slew: speed and time
    map.row(0x2d).bytes(3); // slew: speed
    map.row(0x2e).bytes(2).grows(WIDE, 1); // slew: until level
    map.row(0x2f).undefined();
  }

  private static void levels(OpcodeMap.Builder map) {
    map.rows(0x30, 0x37).bytes(2).specifier(PLACE); // read level
    map.rows(0x38, 0x3b).bytes(2).specifier(PLACE); // write level
    map.rows(0x3c, 0x3f).bytes(2).grows(WIDE, 1); // level immediate
    map.rows("010x_x00x").bytes(2).specifier(PLACE); // add, subtract
    map.rows("010x_x010").bytes(2).grows(WIDE, 1); // add immediate
    map.row(0x43).bytes(3).specifier(PLACE); // scale
    map.row(0x4b).bytes(3).specifier(PLACE); // shift
    map.row(0x53).bytes(3).grows(WIDE, 1).specifier(PLACE); // clamp
    map.row(0x5b).bytes(1); // negate
    map.rows("010x_x1xx").bytes(1); // move register
    map.rows(0x60, 0x67).bytes(2).specifier(PLACE); // compare
    map.rows(0x68, 0x6b).bytes(2).grows(WIDE, 1); // compare immediate
    map.row(0x6c)
        .byNextByte(
            next ->
                next.when("000x_xxxx")
                    .bytes(3) // test a bit of a gauge
                    .when("001x_xxxx")
                    .bytes(2) // test a leaf
                    .when("01xx_xxxx")
                    .bytes(4) // test a range
                    .others()
                    .undefined());
    map.rows(0x6d, 0x6e).bytes(3); // tide table
    map.row(0x6f).undefined();
    map.rows(0x70, 0x77).bytes(1); // push
    map.rows(0x78, 0x7f).bytes(1); // pop
  }

  private static void control(OpcodeMap.Builder map) {
    map.rows(0x80, 0x8f).bytes(2); // branch on condition, near
    map.rows(0x90, 0x9f).bytes(3).grows(WIDE, 2); // branch on condition, far
    map.row(0xa0).bytes(3).grows(WIDE, 2); // call
    map.row(0xa1).bytes(2); // call near
    map.row(0xa2).bytes(1); // return
    map.row(0xa3).bytes(2); // return and drop
    map.row(0xa4).bytes(2).specifier(PLACE); // call by place
    map.row(0xa5).bytes(2).specifier(PLACE); // jump by place
    map.rows(0xa6, 0xa7).bytes(3); // loop
    map.rows(0xa8, 0xaf).bytes(2); // raise alarm
    map.rows(0xb0, 0xb7).bytes(2); // byte immediate
    map.rows(0xb8, 0xbf).bytes(3).grows(WIDE, 2); // word immediate
    map.row(0xc0).bytes(3).specifier(PLACE); // store byte immediate
    map.row(0xc1).bytes(4).grows(WIDE, 2).specifier(PLACE); // store word immediate
    map.row(0xc2).bytes(2); // wait for tide
    map.row(0xc3).bytes(4); // wait until
    map.rows(0xc4, 0xc7).bytes(1); // critical section
    map.rows(0xc8, 0xcf).undefined();
    map.rows(0xd0, 0xd7).bytes(2); // send to lockkeeper
    map.rows(0xd8, 0xdb).bytes(3); // send word
    map.row(0xdc).bytes(2).specifier(PLACE); // send a place
    map.row(0xdd).bytes(5); // stamp
    map.row(0xde).bytes(1); // acknowledge
    map.row(0xdf).bytes(1); // halt
    map.row(0xfe).escape("survey");
    map.others().undefined();
  }

  private static void survey(OpcodeMap.Builder map) {
    map.rows(0x00, 0x0f).bytes(2); // self test
    map.rows(0x10, 0x1f).bytes(3).specifier(PLACE); // sound the depth
    map.rows(0x20, 0x27).bytes(3); // calibrate
    map.row(0x28).bytes(4).grows(WIDE, 1).specifier(PLACE); // calibrate a gauge to
    map.row(0x29).bytes(4).specifier(PLACE); // average
    map.rows(0x2a, 0x2f).bytes(3).specifier(PLACE); // minimum, maximum
    map.rows(0x30, 0x3f).bytes(4); // set an alarm level
    map.rows("01xx_x000").bytes(3).grows(WIDE, 1); // model parameter
    map.rows("01xx_x001").bytes(2); // model step
    map.rows("01xx_x01x").bytes(3).specifier(PLACE); // model input
    map.rows(0x80, 0x8f).bytes(4).grows(WIDE, 2); // long branch
    map.row(0x90).bytes(7); // sign a record
    map.others().undefined();
  }
}
