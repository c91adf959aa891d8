package dev.lengthwise.stream;

import java.io.InputStream;
import java.nio.charset.StandardCharsets;

/**
 * A text trace that is made while it is read: a walk over a program of {@value #DISTINCT} distinct
 * instructions that jumps after every few. It costs less time than reading it.
 */
final class GeneratedTrace extends InputStream {

  /** The distinct instructions, as many as a large program executes. */
  static final int DISTINCT = 200_000;

  /** The lines of a block that is jumped to. */
  private static final int BLOCK = 8;

  private final byte[][] blocks = new byte[DISTINCT / BLOCK][];
  private long linesLeft;
  private byte[] current = new byte[0];
  private int position;
  private int block;

  GeneratedTrace(long lines) {
    if (lines % BLOCK != 0) {
      throw new IllegalArgumentException("lines: a multiple of 8 is expected, found " + lines);
    }
    this.linesLeft = lines;
    for (int i = 0; i < blocks.length; i++) {
      StringBuilder text = new StringBuilder();
      for (int j = 0; j < BLOCK; j++) {
        text.append(Integer.toHexString(0x8049000 + 32 * i + 4 * j)).append(' ');
        text.append(1 + (i + j) % 7).append('\n');
      }
      blocks[i] = text.toString().getBytes(StandardCharsets.US_ASCII);
    }
  }

  @Override
  public int read() {
    byte[] one = new byte[1];
    return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
  }

  @Override
  public int read(byte[] into, int offset, int length) {
    int filled = 0;
    while (filled < length) {
      if (position == current.length) {
        if (linesLeft == 0) {
          break;
        }
        linesLeft -= BLOCK;
        block = (block * 21 + 12_347) % blocks.length;
        current = blocks[block];
        position = 0;
      }
      int count = Math.min(length - filled, current.length - position);
      System.arraycopy(current, position, into, offset + filled, count);
      position += count;
      filled += count;
    }
    return filled == 0 && length > 0 ? -1 : filled;
  }
}
