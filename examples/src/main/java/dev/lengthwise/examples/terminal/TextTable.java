package dev.lengthwise.examples.terminal;

import java.util.ArrayList;
import java.util.List;

/** A table that is printed with aligned columns. */
public final class TextTable {

  private final List<List<String>> rows = new ArrayList<>();

  /**
   * Begins a table.
   *
   * @param heads the heads of its columns, at least one
   */
  public TextTable(String... heads) {
    rows.add(List.of(heads));
  }

  /**
   * Adds a row.
   *
   * @param cells as many as heads
   * @return this table
   */
  public TextTable row(Object... cells) {
    List<String> texts = new ArrayList<>();
    for (Object cell : cells) {
      texts.add(String.valueOf(cell));
    }
    rows.add(texts);
    return this;
  }

  /** Returns the lines: first column left, the others right. */
  @Override
  public String toString() {
    StringBuilder text = new StringBuilder();
    int columns = rows.get(0).size();
    for (List<String> row : rows) {
      StringBuilder line = new StringBuilder();
      for (int column = 0; column < columns; column++) {
        int at = column;
        int width = rows.stream().mapToInt(r -> r.get(at).length()).max().orElse(0);
        String gap = " ".repeat(width - row.get(column).length());
        line.append(column == 0 ? row.get(0) + gap : "  " + gap + row.get(column));
      }
      text.append(line.toString().stripTrailing()).append('\n');
    }
    return text.toString();
  }
}
