package dev.lengthwise.testbench;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.javamodel.JavaModel;
import dev.lengthwise.name.HdlName;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Every legal name that emitted files use, found in the text of designs of all kinds. */
final class ScannedNames {

  private static final Pattern COMMENTS_AND_STRINGS =
      Pattern.compile("(?s)\"[^\"\n]*\"|/\\*.*?\\*/|(//|--)[^\n]*");
  private static final Pattern WORD = Pattern.compile("(?<![0-9A-Za-z_'])[A-Za-z][A-Za-z0-9_]*");

  private ScannedNames() {}

  /** Returns the names, and further ones that gates and reports are called inside. */
  static List<String> all() {
    Set<String> names = new TreeSet<>(List.of("code_0", "length_word_1", "o0", "checks", "far"));
    for (Design design : designs()) {
      for (OutputFile file : files(design)) {
        Matcher words = WORD.matcher(COMMENTS_AND_STRINGS.matcher(file.text()).replaceAll(" "));
        while (!file.path().endsWith(".hex") && words.find()) {
          String name = words.group().toLowerCase(Locale.ROOT);
          if (HdlName.fault(name).isEmpty()) {
            names.add(name);
          }
        }
      }
    }
    return List.copyOf(names);
  }

  /** Prints everything for a design. */
  static List<OutputFile> files(Design design) {
    List<OutputFile> files = new ArrayList<>();
    files.addAll(new Verilog().files(design.circuit()));
    files.addAll(new Vhdl().files(design.circuit()));
    files.addAll(new Testbenches(40, 1).withEvery(40).files(design));
    files.addAll(new JavaModel().files(design));
    return files;
  }

  private static List<Design> designs() {
    Realizer realizer = Realizer.on(DeviceProfile.sixInputDualOutput());
    List<Design> designs = new ArrayList<>();
    List<FetchUnit> units = FetchUnits.all();
    for (int i : List.of(0, 5, 9, 14, 19, 22)) {
      designs.add(realizer.realize(units.get(i), Style.ROM));
      designs.add(realizer.realize(units.get(i).row(), Style.BANKED));
    }
    for (Style style : List.of(Style.ROM, Style.BANKED)) {
      designs.add(realizer.realize(Predecoder.builder(SampleSets.bytes()).build(), style));
      Predecoder folded =
          Predecoder.builder(FetchUnits.set()).prefixes(PrefixTreatment.folded(2)).build();
      designs.add(realizer.realize(folded, style));
    }
    return designs;
  }
}
