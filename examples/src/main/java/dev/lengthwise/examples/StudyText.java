package dev.lengthwise.examples;

import dev.lengthwise.examples.terminal.TextTable;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.study.advice.LeftOutPrice;
import dev.lengthwise.study.fetch.Throughput;
import dev.lengthwise.study.sweep.ParetoFront;
import dev.lengthwise.study.sweep.StudyRow;
import dev.lengthwise.study.sweep.Variant;
import dev.lengthwise.study.workload.StudyStream;
import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Prints what a study found. */
final class StudyText {

  private final PrintWriter out;
  private final List<Variant> variants;
  private final List<StudyStream> streams;

  StudyText(PrintWriter out, List<Variant> variants, List<StudyStream> streams) {
    this.out = out;
    this.variants = variants;
    this.streams = streams;
  }

  void streams() {
    for (StudyStream stream : streams) {
      long unknown = stream.profile().outside() + stream.profile().disagreeing();
      out.println(stream + (unknown == 0 ? "" : ", and " + unknown + " that do not fit the image"));
      stream.sweep().ifPresent(sweep -> out.println(stream.name() + ": " + sweep.skippedText()));
    }
    out.println();
  }

  /** Prints rows; a star marks those that none beats. */
  void table(List<StudyRow> rows) {
    List<StudyRow> front = ParetoFront.among(rows);
    out.println("lanes; LUTs and levels are estimates, * is on the Pareto front");
    for (StudyStream stream : streams) {
      TextTable table =
          new TextTable(stream.name(), "LUTs", "sites", "levels", "handled", "exact", "IPC", "");
      for (StudyRow row : rows) {
        if (row.stream().equals(stream.name())) {
          table.row(
              row.design(),
              row.lutsPerLane(),
              row.sitesPerLane(),
              row.levels(),
              share(row.handledShare()),
              share(row.exactShare()),
              row.ipc().isPresent() ? fixed(row.ipc().getAsDouble(), 3) : "-",
              front.contains(row) ? "*" : "");
        }
      }
      out.printf(Locale.ROOT, "%n%s", table);
    }
    out.println();
  }

  /** Prints what it would bring and cost each lane to put rows back that it leaves out. */
  void leftOut(StudyStream stream) {
    TextTable table =
        new TextTable(stream.name() + ", rows left out", "back", "regained", "share", "LUTs more");
    for (Variant variant : variants) {
      Realizer realizer = Realizer.on(variant.device());
      for (LeftOutPrice price :
          LeftOutPrice.of(stream.profile(), variant.lane(), realizer, variant.style())) {
        table.row(
            variant.name(), price.rows(), price.regained(), share(price.share()), price.luts());
      }
    }
    out.println(table);
  }

  /** Prints where the cycles go: what each use of decoder slots stands for per instruction. */
  void cycles() {
    StudyStream stream = streams.get(0);
    if (!stream.isOrdered()) {
      return;
    }
    List<String> heads = new ArrayList<>(List.of("cycles per instruction"));
    for (Throughput.SlotUse use : Throughput.SlotUse.values()) {
      heads.add(use.label());
    }
    heads.add("sum");
    TextTable table = new TextTable(heads.toArray(String[]::new));
    for (Variant variant : variants) {
      Throughput found = stream.throughput(variant.lane(), variant.frontEnd());
      List<Object> cells = new ArrayList<>(List.of(variant.name()));
      for (Throughput.SlotUse use : Throughput.SlotUse.values()) {
        cells.add(fixed(found.cycles(use) / found.instructions(), 3));
      }
      cells.add(fixed(found.cycles() / (double) found.instructions(), 3));
      table.row(cells.toArray());
    }
    out.println(table);
  }

  /** Prints what the step from the first variant to the last gains and costs. */
  void steps(List<StudyRow> rows) {
    for (StudyStream stream : streams) {
      List<StudyRow> own = rows.stream().filter(r -> r.stream().equals(stream.name())).toList();
      StudyRow lean = own.get(0);
      StudyRow full = own.get(own.size() - 1);
      out.printf(
          Locale.ROOT,
          "%s: from %s to %s: %+d LUTs, %+d levels, exact share %s to %s%s%n",
          stream.name(),
          lean.design(),
          full.design(),
          full.lutsPerLane() - lean.lutsPerLane(),
          full.levels() - lean.levels(),
          share(lean.exactShare()),
          share(full.exactShare()),
          lean.ipc().isEmpty() || full.ipc().isEmpty()
              ? ""
              : String.format(
                  Locale.ROOT,
                  ", IPC %.3f to %.3f",
                  lean.ipc().getAsDouble(),
                  full.ipc().getAsDouble()));
    }
    out.println();
  }

  static String share(double value) {
    return String.format(Locale.ROOT, "%.2f%%", 100 * value);
  }

  private static String fixed(double value, int digits) {
    return String.format(Locale.ROOT, "%." + digits + "f", value);
  }
}
