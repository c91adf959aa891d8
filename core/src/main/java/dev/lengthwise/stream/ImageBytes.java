package dev.lengthwise.stream;

import dev.lengthwise.file.FileFault;
import java.io.Closeable;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import java.util.zip.ZipException;

/**
 * The bytes of an image file at any offset. A plain file is read in the parts asked for, so that
 * its size costs nothing; a gzip file is unpacked up to a limit.
 */
final class ImageBytes implements Closeable {

  private final String name;
  private final Optional<FileChannel> channel;
  private final byte[] unpacked;
  private final long size;

  private ImageBytes(String name, Optional<FileChannel> channel, byte[] unpacked, long size) {
    this.name = name;
    this.channel = channel;
    this.unpacked = unpacked;
    this.size = size;
  }

  static ImageBytes open(Path file) throws IOException {
    String name = StreamFiles.name(file);
    if (Files.exists(file) && !Files.isRegularFile(file)) {
      throw new IOException(name + ": a regular file is expected, found another kind");
    }
    FileChannel channel;
    try {
      channel = FileChannel.open(file);
    } catch (IOException e) {
      throw FileFault.reading(name, e);
    }
    try {
      byte[] head = new byte[3];
      int read = channel.read(ByteBuffer.wrap(head), 0);
      if (read < head.length || !StreamFiles.isGzip(head)) {
        return new ImageBytes(name, Optional.of(channel), new byte[0], channel.size());
      }
      channel.close();
      byte[] unpacked = unpack(file);
      return new ImageBytes(name, Optional.empty(), unpacked, unpacked.length);
    } catch (IOException e) {
      channel.close();
      throw FileFault.reading(name, e);
    }
  }

  /** Reads a stream to its end, unpacked if it is gzip. */
  static ImageBytes of(InputStream in, String name) throws IOException {
    byte[] bytes = unpack(StreamFiles.open(in, name), name);
    return new ImageBytes(name, Optional.empty(), bytes, bytes.length);
  }

  private static byte[] unpack(Path file) throws IOException {
    try (InputStream in = StreamFiles.open(file)) {
      return unpack(in, StreamFiles.name(file));
    }
  }

  private static byte[] unpack(InputStream in, String name) throws IOException {
    try {
      byte[] unpacked = in.readNBytes(CodeImage.MOST_BYTES + 1);
      if (unpacked.length > CodeImage.MOST_BYTES) {
        throw new IOException(
            name
                + ": at most "
                + CodeImage.MOST_BYTES
                + " bytes are expected in a gzip image, found more");
      }
      return unpacked;
    } catch (ZipException | EOFException e) {
      throw new IOException(name + ": a whole gzip file is expected, found " + e.getMessage(), e);
    }
  }

  String name() {
    return name;
  }

  long size() {
    return size;
  }

  /** Reads bytes; {@code what} says in messages what they are. */
  byte[] read(long offset, int length, String what) throws IOException {
    checkInside(offset, length, what);
    byte[] bytes = new byte[length];
    if (channel.isEmpty()) {
      System.arraycopy(unpacked, (int) offset, bytes, 0, length);
      return bytes;
    }
    ByteBuffer buffer = ByteBuffer.wrap(bytes);
    while (buffer.hasRemaining()) {
      int count;
      try {
        count = channel.get().read(buffer, offset + buffer.position());
      } catch (IOException e) {
        throw FileFault.reading(name, e);
      }
      if (count < 0) {
        throw broken(offset, what + " is expected whole", "the end of the file while reading");
      }
    }
    return bytes;
  }

  /** Checks that bytes are inside the file. */
  void checkInside(long offset, long length, String what) throws IOException {
    if (offset < 0 || length < 0 || offset > size || length > size - offset) {
      throw broken(
          offset,
          what + " must lie inside the file of " + size + " bytes",
          Long.toUnsignedString(length) + " bytes there");
    }
  }

  /** Returns the failure that something is wrong at an offset. */
  IOException broken(long offset, String rule, String found) {
    return new IOException(
        String.format(Locale.ROOT, "%s, offset 0x%x: %s, found %s", name, offset, rule, found));
  }

  /** Returns the failure that the file holds no code. */
  IOException noCode() {
    return new IOException(name + ": a file with code is expected, found no executable byte");
  }

  @Override
  public void close() throws IOException {
    if (channel.isPresent()) {
      channel.get().close();
    }
  }
}
