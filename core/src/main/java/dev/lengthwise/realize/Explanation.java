package dev.lengthwise.realize;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.lane.support.BitAccount;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.realize.cost.PathStep;
import dev.lengthwise.realize.lane.LaneCore;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;

/** Writes the account of a design. */
final class Explanation {

  private final List<String> lines = new ArrayList<>();

  private Explanation() {}

  static List<String> of(Design design, List<LaneCore> cores) {
    Explanation explanation = new Explanation();
    explanation.lines.add(
        String.format(
            Locale.ROOT,
            "%s in style %s on %s",
            design.name(),
            design.style().label(),
            design.device().name()));
    for (LaneCore core : cores) {
      explanation.lines.addAll(BitAccount.of(core.table(), false));
      core.mapping().ifPresent(explanation::network);
      core.mapping().ifPresent(mapping -> explanation.late(mapping, core.delays()));
      if (core.mapping().isEmpty()) {
        explanation.blocks(core.circuit());
      }
    }
    explanation.path(design);
    return List.copyOf(explanation.lines);
  }

  /** Says how far late inputs have to go. */
  private void late(LaneMapping mapping, DelayModel delays) {
    LutNetwork network = mapping.network();
    int inputs = network.inputNames().size();
    int[] behind = new int[inputs + network.luts().size()];
    for (int lut = network.luts().size() - 1; lut >= 0; lut--) {
      for (int signal : network.luts().get(lut).fanIns()) {
        behind[signal] = Math.max(behind[signal], 1 + behind[inputs + lut]);
      }
    }
    for (int input = 0; input < inputs; input++) {
      if (delays.arrival(input) > 0 && behind[input] > 0) {
        lines.add(
            String.format(
                Locale.ROOT,
                "  %s is there after %s levels of others and passes %d",
                inputName(mapping, input),
                levels(delays.arrival(input) / (double) delays.level()),
                behind[input]));
      }
    }
  }

  private static String levels(double levels) {
    return String.format(Locale.ROOT, "%.2f", levels).replaceFirst("[.]?0+$", "");
  }

  private void network(LaneMapping mapping) {
    lines.add("");
    lines.add("codes between the blocks:");
    mapping.codes().forEach(code -> code.lines().forEach(line -> lines.add("  " + line)));
    lines.add("");
    lines.add("LUT by LUT:");
    LutNetwork network = mapping.network();
    int inputs = network.inputNames().size();
    for (int i = 0; i < network.luts().size(); i++) {
      LutNetwork.Lut lut = network.luts().get(i);
      LaneMapping.Role role = mapping.roles().get(i);
      lines.add(
          String.format(
              Locale.ROOT,
              "  LUT %s, level %s, %s at byte %s, %s: reads %s, table %s",
              i,
              network.level(inputs + i),
              role.block(),
              role.position(),
              role.what(),
              lut.fanIns().stream()
                  .map(s -> s < inputs ? inputName(mapping, s) : "LUT " + (s - inputs))
                  .collect(Collectors.joining(", ")),
              hex(lut.table())));
    }
    for (LutNetwork.Output output : network.outputs()) {
      lines.add(
          String.format(
              Locale.ROOT,
              "  %s is %s",
              output.name(),
              output.signal() < 0
                  ? "constant"
                  : output.signal() < inputs
                      ? inputName(mapping, output.signal())
                      : "LUT " + (output.signal() - inputs)));
    }
  }

  private static String inputName(LaneMapping mapping, int input) {
    int codeBits = 8 * mapping.shape().bytes();
    return input < codeBits
        ? String.format(Locale.ROOT, "byte %s bit %s", input / 8, input % 8)
        : "mode " + mapping.shape().modes().get(input - codeBits);
  }

  private static String hex(TruthTable table) {
    StringBuilder text = new StringBuilder();
    long[] words = table.onWords();
    for (int i = words.length - 1; i >= 0; i--) {
      text.append(String.format(Locale.ROOT, table.inputs() >= 6 ? "%016x" : "%x", words[i]));
    }
    return text.toString();
  }

  private void blocks(Circuit circuit) {
    lines.add("");
    lines.add("blocks:");
    for (Circuit block : circuit.blocks()) {
      lines.add("  " + block.name() + ": " + block.summary());
      for (int node = 0; node < block.nodes().size(); node++) {
        block.sectionAt(node).ifPresent(section -> lines.add("    " + section));
      }
    }
  }

  private void path(Design design) {
    lines.add("");
    lines.add("longest path:");
    for (PathStep step : design.criticalPath()) {
      lines.add(String.format(Locale.ROOT, "  level %s: %s", step.level(), step.name()));
    }
  }
}
