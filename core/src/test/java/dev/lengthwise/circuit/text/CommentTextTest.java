package dev.lengthwise.circuit.text;

import static com.google.common.truth.Truth.assertThat;

import java.util.Random;
import org.junit.jupiter.api.Test;

class CommentTextTest {

  @Test
  void wrap_longText_breaksBetweenWords() {
    assertThat(CommentText.wrap("one two three four five six seven", 20))
        .containsExactly("one two three four", "five six seven")
        .inOrder();
  }

  @Test
  void wrap_emptyLine_startsParagraph() {
    assertThat(CommentText.wrap("a\nb\r\n \nc\n", 40)).containsExactly("a b", "", "c").inOrder();
  }

  @Test
  void wrap_nothingToSay_yieldsNoLine() {
    assertThat(CommentText.wrap(" \n\t\r\n ", 40)).isEmpty();
  }

  @Test
  void wrap_orderToTool_isQuoted() {
    assertThat(CommentText.wrap("verilator lint_off WIDTH", 60))
        .containsExactly("\"verilator\" lint_off WIDTH");
    assertThat(CommentText.wrap("mind that some pragma translate_off", 20))
        .containsExactly("mind that some", "\"pragma\" translate_off")
        .inOrder();
  }

  @Test
  void wrap_otherCharacters_areEscaped() {
    assertThat(CommentText.wrap("caf\u00e9\u0000\u0085x", 60))
        .containsExactly("caf\\u00e9\\u0000\\u0085x");
  }

  @Test
  void wrap_backslashAtEnd_isFollowed() {
    assertThat(CommentText.wrap("path \\", 60)).containsExactly("path \\.");
  }

  @Test
  void wrap_randomCharacters_yieldsPrintableLinesOfLimitedLength() {
    Random random = new Random(1);
    for (int round = 0; round < 2000; round++) {
      StringBuilder text = new StringBuilder();
      for (int i = random.nextInt(300); i > 0; i--) {
        text.append((char) (random.nextBoolean() ? random.nextInt(128) : random.nextInt(65536)));
      }
      for (String line : CommentText.wrap(text.toString(), 60)) {
        assertThat(line).matches("[ -~]{0,60}");
        assertThat(line).doesNotMatch(".*(\\\\| )");
      }
    }
  }

  @Test
  void oneLine_lineEnds_becomeSpaces() {
    assertThat(CommentText.oneLine("\na\nb\r\nc\u2028d")).isEqualTo("a b  c d");
  }
}
