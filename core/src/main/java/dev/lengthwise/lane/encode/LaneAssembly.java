package dev.lengthwise.lane.encode;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.network.LabelledLuts;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.exact.Wiring;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.map.LutTree;
import dev.lengthwise.logic.map.MapperSettings;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.IntStream;

/** Puts the blocks of a lane together into a network. */
final class LaneAssembly {

  private final LengthEncoding codes;
  private final MapEncoder[] blocks;
  private final MapEncoder.Solved[] solved;
  private final EncodingConstraints link;
  private final int lutInputs;
  private final Objective objective;
  private final LabelledLuts luts;
  private final LutTree tree;
  private final Map<Integer, int[]> specifierSignals = new HashMap<>();
  private final int modeInput;

  LaneAssembly(
      LengthEncoding codes,
      MapEncoder[] blocks,
      MapEncoder.Solved[] solved,
      EncodingConstraints link,
      MapperSettings settings) {
    this.codes = codes;
    this.blocks = blocks;
    this.solved = solved;
    this.link = link;
    this.lutInputs = settings.lutInputs();
    this.objective = settings.objective();
    this.modeInput = 8 * codes.shape().bytes();
    this.luts = new LabelledLuts(codes.shape());
    this.tree = new LutTree(luts.builder(), lutInputs, objective, settings.effort());
  }

  /** What a map's block and all behind it say. */
  // Package-internal and never compared, so arrays do.
  @SuppressWarnings("ArrayRecordComponent")
  private record Signals(int[] select, int[] length, int[] role) {}

  LaneMapping build() {
    Signals root = join(0);
    LaneFunction shape = codes.shape();
    List<Integer> late = new ArrayList<>();
    for (int m = 0; m < shape.modes().size(); m++) {
      if ((codes.lateModes() >> m & 1) != 0) {
        late.add(m);
      }
    }
    int selects = root.select().length;
    int lengths = root.length().length;
    int n = selects + lengths + late.size();
    int[] signals = new int[n];
    System.arraycopy(root.select(), 0, signals, 0, selects);
    System.arraycopy(root.length(), 0, signals, selects, lengths);
    for (int i = 0; i < late.size(); i++) {
      signals[selects + lengths + i] = modeInput + late.get(i);
    }
    List<TruthTable> tables = new ArrayList<>();
    for (int bit = 0; bit < shape.lengthBits(); bit++) {
      int outputBit = bit;
      tables.add(
          TruthTable.of(
              n,
              p -> (meaning(p, selects, lengths, late) >> outputBit & 1) != 0,
              p -> meaning(p, selects, lengths, late) >= 0));
    }
    int[] outputs = tree.buildAll(tables, signals);
    luts.label("sum", 0, "length");
    return luts.prove(outputs, describeCodes());
  }

  /** Says what length each select and length code means under the late modes. */
  private List<String> describeCodes() {
    List<String> lines = new ArrayList<>();
    int[][][] meaning = link.meaning();
    for (int word = 0; word < meaning.length; word++) {
      if ((word & ~codes.lateModes()) != 0) {
        continue;
      }
      for (int select = 0; select < meaning[word].length; select++) {
        List<String> lengths = new ArrayList<>();
        for (int code = 0; code < meaning[word][select].length; code++) {
          int length = meaning[word][select][code];
          if (length >= 0) {
            lengths.add(length == 0 ? code + " not handled" : code + " length " + length);
          }
        }
        if (!lengths.isEmpty()) {
          lines.add(
              String.format(
                  Locale.ROOT,
                  "modes 0x%x, select code %d: length code %s",
                  word,
                  select,
                  String.join(", ", lengths)));
        }
      }
    }
    return lines;
  }

  private int meaning(int point, int selects, int lengths, List<Integer> late) {
    int select = point & (1 << selects) - 1;
    int length = point >> selects & (1 << lengths) - 1;
    int word = 0;
    for (int i = 0; i < late.size(); i++) {
      word |= (point >> (selects + lengths + i) & 1) << late.get(i);
    }
    return link.meaning()[word][select][length];
  }

  private int[] specifier(int position) {
    return specifierSignals.computeIfAbsent(
        position,
        p -> {
          SpecifierEncoding code = codes.code();
          int[] signals = new int[code.inputs().length];
          for (int k = 0; k < signals.length; k++) {
            int input = code.inputs()[k];
            signals[k] = input < 16 ? 8 * p + input : modeInput + input - 16;
          }
          int[] result = new int[code.bits()];
          boolean fits = true;
          for (int[] fanIns : code.fanIns()) {
            fits &= fanIns.length <= lutInputs;
          }
          if (!fits) {
            result = tree.buildAll(code.wideTables(), signals);
          }
          for (int b = 0; b < result.length && fits; b++) {
            int[] own = Arrays.stream(code.fanIns()[b]).map(k -> signals[k]).toArray();
            result[b] = tree.build(complete(code.tables()[b], own.length), own);
          }
          luts.label("specifier", p, "specifier code");
          return result;
        });
  }

  private static TruthTable complete(long[] table, int inputs) {
    return TruthTable.of(inputs, p -> (table[p >> 6] >>> p & 1) != 0);
  }

  /** Builds the front LUTs of a map whose escapes are built, and returns its outputs. */
  private int[] front(int map, Signals[] escapes) {
    MapEncoder block = blocks[map];
    Wiring topology = solved[map].topology();
    int[] signals = new int[topology.sources() + topology.fanIns().length];
    int offset = codes.shape().codedMaps().get(map).offset();
    for (int i = 0; i < 8; i++) {
      signals[i] = 8 * offset + i;
    }
    for (int e = 0; e < escapes.length && block.merges(); e++) {
      for (int b = 0; b < block.lengthBits(); b++) {
        signals[block.escapeSource(e, b)] = escapes[e].length()[b];
      }
    }
    for (int m = 0; m < codes.shape().modes().size(); m++) {
      signals[block.modeSource(m)] = modeInput + m;
    }
    String name = codes.shape().codedMaps().get(map).name();
    boolean fits = true;
    for (int[] fanIns : topology.fanIns()) {
      fits &= fanIns.length <= lutInputs;
    }
    if (!fits && objective == Objective.DEPTH) {
      return flatFront(map, signals);
    }
    if (!fits) {
      int[] sources = Arrays.copyOf(signals, topology.sources());
      int[] result = tree.buildAll(block.tables(topology, solved[map].tables()), sources);
      luts.label(name, offset, "role and length code");
      return result;
    }
    for (int i = 0; i < topology.fanIns().length; i++) {
      int[] fanIns = topology.fanIns()[i];
      int[] own = new int[fanIns.length];
      for (int k = 0; k < own.length; k++) {
        own[k] = signals[fanIns[k]];
      }
      signals[topology.sources() + i] =
          tree.build(complete(solved[map].tables()[i], own.length), own);
      luts.label(name, offset, describe(topology, i, block.roleBits()));
    }
    int[] outputs = new int[topology.outputs().length];
    for (int o = 0; o < outputs.length; o++) {
      outputs[o] = signals[topology.outputs()[o]];
    }
    return outputs;
  }

  /** Builds a front whose LUTs are too wide: what is early at once, then what waits for escapes. */
  private int[] flatFront(int map, int[] signals) {
    MapEncoder block = blocks[map];
    Wiring topology = solved[map].topology();
    LaneFunction.CodeMap codeMap = codes.shape().codedMaps().get(map);
    int sources = topology.sources();
    boolean[] waits = waits(topology, block);
    int[] early =
        IntStream.range(0, waits.length)
            .filter(node -> !waits[node] && isRead(topology, sources + node, waits))
            .toArray();
    int[] outputs = Arrays.stream(early).map(node -> sources + node).toArray();
    Wiring front = new Wiring(sources, topology.fanIns(), outputs);
    int[] made =
        tree.buildAll(block.tables(front, solved[map].tables()), Arrays.copyOf(signals, sources));
    for (int i = 0; i < early.length; i++) {
      signals[sources + early[i]] = made[i];
    }
    luts.label(codeMap.name(), codeMap.offset(), "role and length code");
    for (int node = 0; node < waits.length; node++) {
      if (waits[node]) {
        int[] own = Arrays.stream(topology.fanIns()[node]).map(f -> signals[f]).toArray();
        signals[sources + node] = tree.build(complete(solved[map].tables()[node], own.length), own);
        luts.label(codeMap.name(), codeMap.offset(), describe(topology, node, block.roleBits()));
      }
    }
    return Arrays.stream(topology.outputs()).map(signal -> signals[signal]).toArray();
  }

  /** Tells for each node whether it depends on the maps escaped to. */
  private static boolean[] waits(Wiring topology, MapEncoder block) {
    int escapes = (1 << block.modeSource(0)) - (1 << 8);
    boolean[] waits = new boolean[topology.fanIns().length];
    int[] supports = topology.supports();
    for (int node = 0; node < waits.length; node++) {
      waits[node] = (supports[node] & escapes) != 0;
    }
    return waits;
  }

  private static boolean isRead(Wiring topology, int signal, boolean[] readers) {
    boolean read = Arrays.stream(topology.outputs()).anyMatch(output -> output == signal);
    for (int node = 0; node < readers.length && !read; node++) {
      read = readers[node] && Arrays.stream(topology.fanIns()[node]).anyMatch(f -> f == signal);
    }
    return read;
  }

  private static String describe(Wiring topology, int node, int roleBits) {
    for (int o = 0; o < topology.outputs().length; o++) {
      if (topology.outputs()[o] == topology.sources() + node) {
        return o < roleBits ? "role bit " + o : "length code bit " + (o - roleBits);
      }
    }
    return "class code bit " + node;
  }

  private Signals join(int map) {
    MapEncoder block = blocks[map];
    int[] escapeMaps = block.escapes();
    Signals[] escapes = new Signals[escapeMaps.length];
    boolean[] folded = new boolean[escapeMaps.length];
    int own = block.roleBits() + (block.readsSpecifier() ? 1 : 0);
    for (int e = 0; e < escapes.length; e++) {
      MapEncoder inner = blocks[escapeMaps[e]];
      int extra = inner.roleBits() + (inner.readsSpecifier() ? 1 : 0);
      int others = escapes.length - 1 - e;
      folded[e] = inner.escapes().length == 0 && own + extra + others <= lutInputs;
      own += folded[e] ? extra : 1;
      escapes[e] = folded[e] ? leaf(escapeMaps[e]) : join(escapeMaps[e]);
    }
    int[] outputs = front(map, escapes);
    int[] role = Arrays.copyOf(outputs, block.roleBits());
    int[] length = Arrays.copyOfRange(outputs, block.roleBits(), outputs.length);
    if (escapes.length > 0 && !block.merges()) {
      for (int b = 0; b < length.length; b++) {
        length[b] = mergedLength(block, role, length[b], escapes, b);
        luts.label(
            codes.shape().codedMaps().get(map).name(), 0, "length bit " + b + " of map or escape");
      }
    }
    int[] select = new int[codes.selectBits()];
    for (int b = 0; b < select.length; b++) {
      select[b] = select(map, escapes, folded, role, b);
      luts.label("select", codes.shape().codedMaps().get(map).offset(), "select bit " + b);
    }
    return new Signals(select, length, role);
  }

  /** Joins a length bit of a map with those of the maps escaped to. */
  private int mergedLength(MapEncoder block, int[] role, int own, Signals[] escapes, int bit) {
    int[] signals = Arrays.copyOf(role, role.length + 1 + escapes.length);
    signals[role.length] = own;
    for (int e = 0; e < escapes.length; e++) {
      signals[role.length + 1 + e] = escapes[e].length()[bit];
    }
    int first = block.readsSpecifier() ? 1 : 0;
    TruthTable table =
        TruthTable.of(
            signals.length,
            point -> {
              int e = (point & (1 << role.length) - 1) - first;
              int from = e >= 0 && e < escapes.length ? role.length + 1 + e : role.length;
              return (point >> from & 1) != 0;
            },
            point -> used(block, point & (1 << role.length) - 1));
    return tree.buildAll(List.of(table), signals)[0];
  }

  private Signals leaf(int map) {
    int[] outputs = front(map, new Signals[0]);
    int roleBits = blocks[map].roleBits();
    return new Signals(
        new int[0],
        Arrays.copyOfRange(outputs, roleBits, outputs.length),
        Arrays.copyOf(outputs, roleBits));
  }

  /** Builds one select bit: the specifier's where one follows, else a constant of the role. */
  private int select(int map, Signals[] escapes, boolean[] folded, int[] role, int bit) {
    MapEncoder block = blocks[map];
    List<Integer> signals = new ArrayList<>();
    for (int r : role) {
      signals.add(r);
    }
    int ownAt = signals.size();
    if (block.readsSpecifier()) {
      signals.add(specifier(codes.shape().codedMaps().get(map).specifierOffset())[bit]);
    }
    int[] start = new int[escapes.length];
    for (int e = 0; e < escapes.length; e++) {
      start[e] = signals.size();
      if (!folded[e]) {
        signals.add(escapes[e].select()[bit]);
        continue;
      }
      int inner = block.escapes()[e];
      for (int r : escapes[e].role()) {
        signals.add(r);
      }
      if (blocks[inner].readsSpecifier()) {
        signals.add(specifier(codes.shape().codedMaps().get(inner).specifierOffset())[bit]);
      }
    }
    // The specifier codes are blocks of their own, even when this is their first use.
    luts.pass();
    TruthTable table =
        TruthTable.of(
            signals.size(),
            point -> {
              int r = point & (1 << role.length) - 1;
              if (block.readsSpecifier() && r == 0) {
                return (point >> ownAt & 1) != 0;
              }
              int e = r - (block.readsSpecifier() ? 1 : 0);
              if (e >= escapes.length) {
                return constant(map, r, bit);
              }
              if (!folded[e]) {
                return (point >> start[e] & 1) != 0;
              }
              int inner = block.escapes()[e];
              int innerBits = escapes[e].role().length;
              int innerRole = point >> start[e] & (1 << innerBits) - 1;
              return blocks[inner].readsSpecifier() && innerRole == 0
                  ? (point >> (start[e] + innerBits) & 1) != 0
                  : constant(inner, innerRole, bit);
            },
            point -> used(block, point & (1 << role.length) - 1));
    return tree.buildAll(List.of(table), signals.stream().mapToInt(Integer::intValue).toArray())[0];
  }

  /** Tells whether a role stands for anything. */
  private static boolean used(MapEncoder block, int role) {
    return role < block.usedRoles();
  }

  private boolean constant(int map, int role, int bit) {
    int plain = role - blocks[map].firstPlainRole();
    int[] constants = solved[map].constants();
    return plain >= 0 && plain < constants.length && (constants[plain] >> bit & 1) != 0;
  }
}
