package dev.lengthwise.stream;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/** Knows files that hold no raw code by their first bytes; the formats' numbers are from memory. */
final class OtherFormat {

  /** Where a DOS header says its PE header is. */
  private static final int PE_OFFSET = 0x3c;

  private static final Map<String, String> STARTS = new LinkedHashMap<>();

  static {
    STARTS.put("!<arch>\n", "an archive");
    STARTS.put("!<thin>\n", "an archive");
    STARTS.put("\u00fe\u00ed\u00fa\u00ce", "a Mach-O file");
    STARTS.put("\u00fe\u00ed\u00fa\u00cf", "a Mach-O file");
    STARTS.put("\u00ce\u00fa\u00ed\u00fe", "a Mach-O file");
    STARTS.put("\u00cf\u00fa\u00ed\u00fe", "a Mach-O file");
    STARTS.put("\u00ca\u00fe\u00ba\u00be", "a Java class or a Mach-O file of several machines");
    STARTS.put("PK\u0003\u0004", "a zip file");
    STARTS.put("\u00fd7zXZ\u0000", "an xz file");
    STARTS.put("(\u00b5/\u00fd", "a zstd file");
    STARTS.put("#!/", "a script");
  }

  private OtherFormat() {}

  /** Returns what a file is, if it starts as one that is no raw code. */
  static Optional<String> of(ImageBytes bytes) throws IOException {
    String head = text(bytes, 0, PE_OFFSET + 4);
    if (head.startsWith("MZ")) {
      return Optional.of(isPe(bytes, head) ? "a PE file" : "a DOS program");
    }
    return STARTS.entrySet().stream()
        .filter(format -> head.startsWith(format.getKey()))
        .map(Map.Entry::getValue)
        .findFirst();
  }

  private static boolean isPe(ImageBytes bytes, String head) throws IOException {
    if (head.length() < PE_OFFSET + 4) {
      return false;
    }
    long at = 0;
    for (int i = 3; i >= 0; i--) {
      at = at << 8 | head.charAt(PE_OFFSET + i);
    }
    return text(bytes, at, 4).equals("PE\0\0");
  }

  /** Returns as many bytes as there are, a character each. */
  private static String text(ImageBytes bytes, long offset, int most) throws IOException {
    int length = (int) Math.max(0, Math.min(most, bytes.size() - offset));
    return length == 0
        ? ""
        : new String(bytes.read(offset, length, "the head"), StandardCharsets.ISO_8859_1);
  }
}
