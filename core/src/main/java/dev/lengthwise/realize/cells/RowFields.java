package dev.lengthwise.realize.cells;

import dev.lengthwise.predecode.row.LaneRow;
import dev.lengthwise.predecode.row.LaneTable;
import java.util.ArrayList;
import java.util.List;

/**
 * How the ROM style codes a row of one map: bytes, then which operand specifier adds to them, which
 * map goes on, and which table of the next byte decides. A field of which a map has no use is 0
 * bits wide; 0 in a field means none, and 0 bytes mean "not handled".
 */
public final class RowFields {

  private final List<SpecifierUse> uses;
  private final int offset;
  private final int unitBytes;
  private final List<LaneRow.Escape> escapes = new ArrayList<>();
  private final List<LaneRow.ByNextByte> splits = new ArrayList<>();
  private final int bytesBits;

  public RowFields(LaneTable table, LaneTable.LaneMap map, List<SpecifierUse> uses) {
    this.uses = uses;
    this.offset = map.offset();
    this.unitBytes = table.lane().instructionSet().table().unit().bytes();
    this.bytesBits = bits(Math.max(1, table.mostBytes()));
    for (LaneRow row : map.rows()) {
      if (row instanceof LaneRow.ByNextByte split) {
        addIfNew(splits, split);
        split.rows().forEach(this::note);
      } else {
        note(row);
      }
    }
  }

  private void note(LaneRow row) {
    if (row instanceof LaneRow.Escape escape) {
      addIfNew(escapes, escape);
    }
  }

  private static <T> void addIfNew(List<T> list, T element) {
    if (!list.contains(element)) {
      list.add(element);
    }
  }

  /** Returns the bits that a value up to {@code most} takes. */
  public static int bits(int most) {
    return Integer.SIZE - Integer.numberOfLeadingZeros(most);
  }

  public int bytesBits() {
    return bytesBits;
  }

  public int specifierBits() {
    return bits(uses.size());
  }

  public int escapeBits() {
    return bits(escapes.size());
  }

  public int splitBits() {
    return bits(splits.size());
  }

  /** Returns the width of a word: all fields but the split, which next-byte tables do not have. */
  public int leafBits() {
    return bytesBits + specifierBits() + escapeBits();
  }

  public List<LaneRow.Escape> escapes() {
    return escapes;
  }

  public List<LaneRow.ByNextByte> splits() {
    return splits;
  }

  /** Returns the word of a row under a mode word; the bytes are the low field. */
  public long word(LaneRow row, int modes, int mostBytes) {
    if (row instanceof LaneRow.ByNextByte split) {
      return (splits.indexOf(split) + 1L) << leafBits();
    }
    if (row instanceof LaneRow.Escape escape) {
      return (escapes.indexOf(escape) + 1L) << bytesBits + specifierBits();
    }
    if (row instanceof LaneRow.Length length && length.bytes().get(modes) <= mostBytes) {
      long use =
          length
              .specifier()
              .map(s -> uses.indexOf(new SpecifierUse(s, offset + unitBytes)) + 1L)
              .orElse(0L);
      return length.bytes().get(modes) | use << bytesBits;
    }
    return 0;
  }

  /** Returns a one for each bit of a row's word that the choices behind it look at. */
  public long care(LaneRow row, int modes, int mostBytes) {
    long splitMask = (1L << splitBits()) - 1 << leafBits();
    long escapeMask = (1L << escapeBits()) - 1 << bytesBits + specifierBits();
    long specifierMask = (1L << specifierBits()) - 1 << bytesBits;
    long bytesMask = (1L << bytesBits) - 1;
    if (row instanceof LaneRow.Anything) {
      return 0;
    }
    if (row instanceof LaneRow.ByNextByte) {
      return splitMask;
    }
    if (row instanceof LaneRow.Escape) {
      return splitMask | escapeMask;
    }
    boolean handled =
        row instanceof LaneRow.Length length && length.bytes().get(modes) <= mostBytes;
    return splitMask | escapeMask | bytesMask | (handled ? specifierMask : 0);
  }
}
