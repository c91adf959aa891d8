package dev.lengthwise.report;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.StringReader;
import java.util.List;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

class ClockPictureTest {

  @Test
  void bar_crossesTheDiagonal_whereTheEstimateHolds() throws Exception {
    ClockPicture picture =
        new ClockPicture(
            List.of(
                new ClockPicture.Point("holds & more", 100, 90, 130),
                new ClockPicture.Point("too high", 50, 80, 100)));
    assertThat(picture.file().path()).isEqualTo("timing.svg");
    Document svg =
        DocumentBuilderFactory.newInstance()
            .newDocumentBuilder()
            .parse(new InputSource(new StringReader(picture.file().text())));
    NodeList lines = svg.getElementsByTagName("line");
    Element same = null;
    List<Element> bars = new java.util.ArrayList<>();
    for (int i = 0; i < lines.getLength(); i++) {
      Element line = (Element) lines.item(i);
      if (line.getAttribute("class").equals("same")) {
        same = line;
      } else if (line.getAttribute("class").equals("range")) {
        bars.add(line);
      }
    }
    assertThat(bars).hasSize(2);
    assertThat(bars.get(0).getTextContent()).isEqualTo("holds & more");
    assertThat(crosses(bars.get(0), same)).isTrue();
    assertThat(crosses(bars.get(1), same)).isFalse();
  }

  private static double number(Element line, String attribute) {
    return Double.parseDouble(line.getAttribute(attribute));
  }

  private static boolean crosses(Element bar, Element same) {
    double share =
        (number(bar, "x1") - number(same, "x1")) / (number(same, "x2") - number(same, "x1"));
    double y = number(same, "y1") + share * (number(same, "y2") - number(same, "y1"));
    return y <= number(bar, "y1") && y >= number(bar, "y2");
  }

  @Test
  void wrongPoints_areRefused() {
    assertThat(
            assertThrows(IllegalArgumentException.class, () -> new ClockPicture(List.of()))
                .getMessage())
        .isEqualTo("clock picture: a point is expected, found none");
    double[][] wrong = {{0, 1, 2}, {1, 0, 2}, {1, 3, 2}, {1e6, 1, 2}, {Double.NaN, 1, 2}};
    for (double[] clocks : wrong) {
      assertThat(
              assertThrows(
                      IllegalArgumentException.class,
                      () -> new ClockPicture.Point("x", clocks[0], clocks[1], clocks[2]))
                  .getMessage())
          .isEqualTo(
              "clock picture: clocks in (0, 1e5] MHz, the low not above the high, are expected,"
                  + " found "
                  + clocks[0]
                  + " measured, "
                  + clocks[1]
                  + " to "
                  + clocks[2]);
    }
  }
}
