package dev.lengthwise.study.make;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.table.ModeCondition;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.work.Work;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.RecordComponent;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Collection;
import java.util.HexFormat;
import java.util.Map;
import java.util.Optional;

/**
 * A short number of what a description says, the same in every run and on every machine. Records
 * are taken apart, so that a component that one gains later counts too.
 */
public final class ContentDigest {

  private final MessageDigest digest;

  /** Starts with nothing. */
  public ContentDigest() {
    try {
      digest = MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("SHA-256 is expected in every JDK, found none", e);
    }
  }

  /**
   * Returns the digest of one value.
   *
   * @param value see {@link #add(Object)}
   * @return hexadecimal digits
   */
  public static String of(Object value) {
    return new ContentDigest().add(value).text();
  }

  /**
   * Adds a value: a text, a number, an enum constant, a record, or a collection of these.
   *
   * @param value the value
   * @return this
   */
  public ContentDigest add(Object value) {
    Work.check();
    if (value instanceof byte[] bytes) {
      add(bytes.length);
      digest.update(bytes);
    } else if (value instanceof Record record) {
      add(record.getClass().getSimpleName());
      for (RecordComponent part : record.getClass().getRecordComponents()) {
        add(part.getName());
        add(read(part, record));
      }
    } else if (value instanceof OpcodeMap map) {
      add(map.name()).add(map.unit()).add(map.groups());
    } else if (value instanceof ModeCondition condition) {
      add(condition.required());
    } else if (value instanceof DeviceProfile device) {
      add(device.name()).add(device.lutInputs()).add(device.pairInputs()).add(device.wideMuxes());
      add(device.blockRams()).add(device.distributedRams()).add(device.registerDelay());
      add(device.levelDelay()).add(device.wireDelay()).add(device.blockRamDelay());
      add(device.distributedRamDelay());
      add(device.pinDelays()).add(device.fanOutDelay());
    } else if (value instanceof Collection<?> values) {
      add(values.size());
      values.forEach(this::add);
    } else if (value instanceof Map<?, ?> values) {
      add(values.size());
      values.forEach((key, entry) -> add(key).add(entry));
    } else if (value instanceof Optional<?> optional) {
      add(optional.isPresent() ? 1 : 0);
      optional.ifPresent(this::add);
    } else if (value instanceof Number || value instanceof Boolean) {
      text("n" + value);
    } else if (value instanceof Enum<?> constant) {
      text("e" + constant.name());
    } else if (value instanceof String text) {
      text("s" + text);
    } else {
      throw new IllegalArgumentException(
          "content digest: a value or a record of values is expected, found "
              + value.getClass().getName());
    }
    return this;
  }

  /**
   * Adds a number, faster than as an object.
   *
   * @param value the value
   * @return this
   */
  public ContentDigest add(long value) {
    digest.update(ByteBuffer.allocate(Long.BYTES).putLong(0, value));
    return this;
  }

  private void text(String text) {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    add((long) bytes.length);
    digest.update(bytes);
  }

  private static Object read(RecordComponent part, Record record) {
    try {
      part.getAccessor().setAccessible(true);
      return part.getAccessor().invoke(record);
    } catch (IllegalAccessException | InvocationTargetException e) {
      throw new IllegalStateException("content digest: a component must be readable", e);
    }
  }

  /**
   * Returns the first 8 bytes, in hex.
   *
   * @return hexadecimal digits
   */
  public String text() {
    return HexFormat.of().formatHex(digest.digest(), 0, 8);
  }
}
