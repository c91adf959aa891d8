package dev.lengthwise.golden;

import dev.lengthwise.table.OperandSpecifier;
import java.util.ArrayList;
import java.util.List;

/** An operand specifier compiled to a table by byte, and one by the next byte where it is read. */
final class FlatSpecifier {

  private final short[] addedOfByte;
  private final byte[][] addedOfNextByte;

  FlatSpecifier(OperandSpecifier specifier, List<String> modeNames) {
    int modeWords = 1 << modeNames.size();
    List<byte[]> byNext = new ArrayList<>();
    this.addedOfByte = new short[modeWords << 8];
    for (int modes = 0; modes < modeWords; modes++) {
      for (int value = 0; value < 256; value++) {
        int index = modes << 8 | value;
        if (specifier.readsNext(value, modeNames, modes)) {
          byte[] added = new byte[256];
          for (int next = 0; next < 256; next++) {
            added[next] = (byte) specifier.added(value, next, modeNames, modes);
          }
          byNext.add(added);
          addedOfByte[index] = (short) -byNext.size();
        } else {
          addedOfByte[index] = (short) specifier.added(value, 0, modeNames, modes);
        }
      }
    }
    this.addedOfNextByte = byNext.toArray(byte[][]::new);
  }

  /** Returns the bytes added after the specifier byte at an offset, or -1 if a byte is missing. */
  int added(byte[] memory, int offset, int end, int modes) {
    if (offset >= end) {
      return -1;
    }
    int added = addedOfByte[modes << 8 | memory[offset] & 0xff];
    if (added >= 0) {
      return added;
    }
    return offset + 1 >= end ? -1 : addedOfNextByte[-added - 1][memory[offset + 1] & 0xff];
  }
}
