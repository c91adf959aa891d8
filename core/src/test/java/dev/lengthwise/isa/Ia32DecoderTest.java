package dev.lengthwise.isa;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.isa.Ia32Difference.Side;
import dev.lengthwise.testing.CallsTools;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.HexFormat;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Compares lengths with the Zydis decoder library on seeded strings, {@value #STRINGS} for each
 * segment size.
 */
@CallsTools
class Ia32DecoderTest {

  private static final int STRINGS = 8_000_000;
  private static final int FILED_ELSEWHERE = 1;

  private static final GoldenModel MODEL = GoldenModel.of(Ia32.instructionSet());

  @TempDir Path directory;

  private final Map<Ia32Difference, Integer> counts = new EnumMap<>(Ia32Difference.class);
  private final Map<String, String> faults = new TreeMap<>();
  private final boolean[] described = new boolean[Ia32Cell.MAPS * Ia32Cell.CLASSES];
  private final boolean[] agreed = new boolean[Ia32Cell.MAPS * Ia32Cell.CLASSES];
  private int accepted;

  @ParameterizedTest
  @ValueSource(ints = {16, 32})
  void lengths_ofManyStrings_agreeWithDecoder(int bits) throws IOException {
    byte[] strings = strings(bits);
    byte[] results = ByteStringDecoder.ZYDIS.decode(directory, bits, strings);
    assertThat(results.length).isEqualTo(2 * STRINGS);
    for (int i = 0; i < STRINGS; i++) {
      compare(strings, i * Ia32Strings.LENGTH, bits == 32, results[2 * i], results[2 * i + 1]);
    }
    assertThat(faults).isEmpty();
    assertThat(accepted).isGreaterThan(STRINGS / 3);
    Set<String> missing = new TreeSet<>();
    for (int index = 0; index < described.length; index++) {
      if (described[index] && !agreed[index]) {
        missing.add(Ia32Cell.name(index));
      }
    }
    assertWithMessage("described rows that the decoder never accepted")
        .that(missing)
        .isEqualTo(boundRegisters());
    assertWithMessage("classes that did not occur")
        .that(
            Arrays.stream(Ia32Difference.values())
                .filter(d -> !d.isRare() && !counts.containsKey(d))
                .toList())
        .isEmpty();
  }

  /** BND4 to BND7 do not exist, but the opcodes with lower numbers do, and reserved NOPs. */
  private static Set<String> boundRegisters() {
    return Set.of("1a", "1b").stream()
        .flatMap(
            opcode ->
                Set.of(4, 5, 6, 7).stream()
                    .map(digit -> "map 1 opcode " + opcode + " memory/" + digit))
        .collect(Collectors.toCollection(TreeSet::new));
  }

  private static byte[] strings(int bits) {
    byte[] strings = new byte[STRINGS * Ia32Strings.LENGTH];
    Ia32Strings source = new Ia32Strings(20_220_000L + bits);
    for (int i = 0; i < STRINGS; i++) {
      source.next(strings, i * Ia32Strings.LENGTH);
    }
    return strings;
  }

  private void compare(byte[] bytes, int offset, boolean wide, int result, int info) {
    int end = offset + Ia32Strings.LENGTH;
    int ours =
        Math.max(0, MODEL.lengthAt(wide ? Ia32.MODES_32 : Ia32.MODES_16, bytes, offset, end));
    boolean elsewhere = result > 0 && info == FILED_ELSEWHERE;
    int theirs = elsewhere ? 0 : result;
    Ia32Cell cell = Ia32Cell.of(bytes, offset, end);
    if (ours > 0 && cell.index() >= 0) {
      described[cell.index()] = true;
      agreed[cell.index()] |= theirs > 0;
    }
    if (ours > 0 && theirs > 0) {
      accepted++;
      if (ours != theirs) {
        fault("length " + ours + " against " + theirs, cell, bytes, offset);
      }
    } else if (ours > 0 || theirs > 0) {
      boolean address32 = wide != cell.has(Ia32Cell.P67);
      Optional<Ia32Difference> difference =
          theirs > 0
              ? Ia32Difference.onlyTheirs(cell)
              : elsewhere
                  ? Ia32Difference.filedElsewhere(cell)
                  : Ia32Difference.onlyOurs(cell, address32, info);
      Side side = theirs > 0 ? Side.DECODER : Side.DESCRIPTION;
      if (difference.isPresent() && difference.get().side() == side) {
        counts.merge(difference.get(), 1, Integer::sum);
      } else {
        fault((theirs > 0 ? "only theirs" : "only ours, status " + info), cell, bytes, offset);
      }
    }
  }

  private void fault(String what, Ia32Cell cell, byte[] bytes, int offset) {
    faults.putIfAbsent(
        what + ", " + (cell.index() < 0 ? "no map" : Ia32Cell.name(cell.index())),
        HexFormat.of().formatHex(bytes, offset, offset + Ia32Strings.LENGTH));
  }
}
