package dev.lengthwise.circuit.text;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;

class TextSinkTest {

  private final TextSink sink = new TextSink();

  @Test
  void open_lines_areIndentedButEmptyOnesAreNot() {
    sink.blank().open("if").line("a  ").line("").between("else").line("b").close("end");
    assertThat(sink.text()).isEqualTo("if\n  a\n\nelse\n  b\nend\n");
  }

  @Test
  void blank_afterBlank_addsNothing() {
    sink.line("a").blank().blank().line("b");
    assertThat(sink.text()).isEqualTo("a\n\nb\n");
  }

  @Test
  void comment_paragraphs_areMarkedOnEveryLine() {
    sink.open("x").comment("//", "one\n\ntwo");
    assertThat(sink.text()).isEqualTo("x\n  // one\n  //\n  // two\n");
  }

  @Test
  void line_lineEnd_throws() {
    IllegalArgumentException fault =
        assertThrows(IllegalArgumentException.class, () -> sink.line("a\nb"));
    assertThat(fault)
        .hasMessageThat()
        .isEqualTo("emitted line: only printable ASCII is allowed, found character 0xa");
  }

  @Test
  void close_nothingOpen_throws() {
    IllegalStateException fault =
        assertThrows(IllegalStateException.class, () -> sink.close("end"));
    assertThat(fault)
        .hasMessageThat()
        .isEqualTo("emitted text: a level must be open to be closed, found none");
  }
}
