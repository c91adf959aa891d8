package dev.lengthwise.stream;

import dev.lengthwise.file.FileFault;
import dev.lengthwise.file.ShownText;
import dev.lengthwise.file.WholeFiles;
import dev.lengthwise.work.Work;
import java.io.EOFException;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PushbackInputStream;
import java.nio.channels.Channels;
import java.nio.channels.ClosedByInterruptException;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.zip.GZIPInputStream;
import java.util.zip.GZIPOutputStream;
import java.util.zip.ZipException;

/** Opens and writes files that are plain or gzip. */
final class StreamFiles {

  private static final int BUFFER = 1 << 16;

  private StreamFiles() {}

  /** Returns what messages call a file. */
  static String name(Path file) {
    return ShownText.of(file.toString());
  }

  /** Opens a file or a pipe; gzip is known by its first bytes (RFC 1952, section 2.3.1). */
  static InputStream open(Path file) throws IOException {
    if (Files.isDirectory(file)) {
      throw new IOException(name(file) + ": a file is expected, found a directory");
    }
    try {
      InputStream in = new Waiting(FileChannel.open(file, StandardOpenOption.READ));
      try {
        return open(in, name(file));
      } catch (IOException | RuntimeException e) {
        in.close();
        throw e;
      }
    } catch (IOException e) {
      throw FileFault.reading(name(file), e);
    }
  }

  /** Returns the bytes of a stream, unpacked if they are gzip. */
  static InputStream open(InputStream in, String name) throws IOException {
    byte[] head = new byte[3];
    PushbackInputStream plain = new PushbackInputStream(in, head.length);
    int read = plain.readNBytes(head, 0, head.length);
    plain.unread(head, 0, read);
    if (read < head.length || !isGzip(head)) {
      return plain;
    }
    try {
      return new WholeGzip(plain);
    } catch (ZipException | EOFException e) {
      throw new IOException(name + ": a whole gzip header is expected, found " + e.getMessage(), e);
    }
  }

  /** Tells whether bytes start as gzip does: two magic bytes, then 8 for deflate. */
  static boolean isGzip(byte[] head) {
    return head.length >= 3 && head[0] == 0x1f && head[1] == (byte) 0x8b && head[2] == 8;
  }

  /** Writes a file; gzip if the name ends in {@code .gz}. */
  static void write(Path file, WholeFiles.Content content) throws IOException {
    WholeFiles.write(
        file,
        raw -> {
          if (file.toString().endsWith(".gz")) {
            GZIPOutputStream out = new GZIPOutputStream(raw, BUFFER);
            content.writeTo(out);
            out.finish();
          } else {
            content.writeTo(raw);
          }
        });
  }

  /** Bytes of a file or a pipe; an interrupt ends the wait for those of a pipe. */
  private static final class Waiting extends FilterInputStream {

    Waiting(FileChannel channel) {
      super(Channels.newInputStream(channel));
    }

    @Override
    public int read(byte[] into, int offset, int length) throws IOException {
      try {
        return super.read(into, offset, length);
      } catch (ClosedByInterruptException e) {
        throw Work.cancelled(e);
      }
    }

    @Override
    public int read() throws IOException {
      byte[] one = new byte[1];
      return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
    }
  }

  /** Gzip that complains of bytes behind its end, which the base class passes over in silence. */
  private static final class WholeGzip extends GZIPInputStream {

    private static final int TRAILER = 8;

    private boolean ended;

    WholeGzip(InputStream in) throws IOException {
      super(in, BUFFER);
    }

    @Override
    public int read(byte[] into, int offset, int length) throws IOException {
      int read = super.read(into, offset, length);
      if (read < 0 && !ended) {
        ended = true;
        if (inf.getRemaining() > TRAILER || in.read() >= 0) {
          throw new ZipException("bytes behind its end that are no further gzip member");
        }
      }
      return read;
    }
  }
}
