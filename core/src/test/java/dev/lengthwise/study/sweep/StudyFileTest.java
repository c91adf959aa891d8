package dev.lengthwise.study.sweep;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * A study's file is read strictly, and says nothing that a spreadsheet or a terminal would obey.
 */
class StudyFileTest {

  private static final String HEADS =
      "design,style,lut_inputs,luts_per_lane,sites_per_lane,levels,handled_share,exact_share,ipc,"
          + "stream,made_of\n";

  private static final String GOOD = "lean,rom,6,20,20,3,0.500000,0.500000,0.5000,tide,decoder=2\n";

  @TempDir Path folder;

  private String refused(byte[] bytes) throws IOException {
    Path file = Files.write(folder.resolve("study.csv"), bytes);
    String message = assertThrows(IOException.class, () -> StudyFile.read(file)).getMessage();
    assertThat(message).startsWith(file + ", line ");
    return message.substring(file.toString().length() + 2);
  }

  private String refused(String lines) throws IOException {
    return refused((HEADS + lines).getBytes(java.nio.charset.StandardCharsets.UTF_8));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "2|6.0|column 3 (lut_inputs): a count in [0, 999999999] is expected, found 6.0",
        "3|-1|column 4 (luts_per_lane): a count in [0, 999999999] is expected, found -1",
        "3|007|column 4 (luts_per_lane): a count in [0, 999999999] is expected, found 007",
        "4|99999999999|column 5 (sites_per_lane): a count in [0, 999999999] is expected, found"
            + " 99999999999",
        "5|''|column 6 (levels): a count in [0, 999999999] is expected, found nothing",
        "6|NaN|column 7 (handled_share): a decimal number in [0, 1] is expected, found NaN",
        "6|0x1p-1|column 7 (handled_share): a decimal number in [0, 1] is expected, found 0x1p-1",
        "7|-0.5|column 8 (exact_share): a decimal number in [0, 1] is expected, found -0.5",
        "7|1.000001|column 8 (exact_share): a decimal number in [0, 1] is expected, found 1.000001",
        "8|1e308|column 9 (ipc): a decimal number in [0, 32] is expected, found 1e308",
        "8|Infinity|column 9 (ipc): a decimal number in [0, 32] is expected, found Infinity",
        "8|0.5d|column 9 (ipc): a decimal number in [0, 32] is expected, found 0.5d",
        "8|33|column 9 (ipc): a decimal number in [0, 32] is expected, found 33",
        "1|gold|column 2 (style): a style is expected, found gold",
        "0|a\u0007b|column 1 (design): text without control characters is expected, found a\\u0007b",
        "9|a\u202eb|column 10 (stream): text without control characters is expected, found"
            + " a\\u202eb",
        "10|decoder|column 11 (made_of): name=value with blanks between is expected, found decoder",
      })
  void read_wrongValue_namesLineAndColumn(int column, String value, String message)
      throws IOException {
    String[] fields = GOOD.trim().split(",", -1);
    fields[column] = value;
    assertThat(refused(GOOD.replace("lean", "first") + String.join(",", fields) + "\n"))
        .isEqualTo("line 3, " + message);
  }

  @Test
  void read_rowTwice_isRefused() throws IOException {
    assertThat(refused(GOOD + GOOD))
        .isEqualTo(
            "line 3: a row that is not given before is expected, found lean, rom, on tide of line 2");
  }

  @Test
  void read_noText_isRefused() throws IOException {
    assertThat(refused(new byte[0]))
        .isEqualTo(
            "line 1: the columns " + HEADS.trim() + " are expected, found the end of the file");
    assertThat(refused(new byte[] {'a', '\n', (byte) 0xff}))
        .isEqualTo("line 2: UTF-8 text is expected, found 0xff");
    assertThat(refused("\"lean")).startsWith("line 2: comma-separated values are expected, found ");
    assertThat(refused("\n")).isEqualTo("line 2: 11 values are expected, found nothing");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "=1+1", "+x", "-x", "@x", "'x", "'=x", "\uff1dx", "-5", "a=b", "x,\"y", "\t=x", ""
      })
  void text_thatASpreadsheetWouldObey_isMadeHarmless_andReadAgain(String name) throws IOException {
    StudyRow row =
        new StudyRow(name, "rom", 6, 1, 1, 1, 0.5, 0.25, OptionalDouble.empty(), name, "a=b c=d");
    Path file = folder.resolve("study.csv");
    StudyFile.write(file, List.of(row));
    assertThat(StudyFile.read(file)).containsExactly(row);
    for (String field : Files.readAllLines(file).get(1).split(",", -1)) {
      assertThat(field).matches("-?[0-9.]*|[^=+@\t\uff1d-].*");
    }
  }
}
