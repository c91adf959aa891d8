package dev.lengthwise.testbench.vector;

import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.Row;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;

/** Chooses the golden vectors of a lane; {@link LaneVectors} says which. */
final class VectorPlan {

  private final Predecoder lane;
  private final LengthTable table;
  private final CodeUnit unit;
  private final int modeWords;
  private final int bytes;
  private final SplittableRandom random;
  private final LaneVectors.Collector found;
  private final Set<OperandSpecifier> indexed = new HashSet<>();

  VectorPlan(Predecoder lane, LaneModel model, long seed) {
    this.lane = lane;
    this.table = lane.instructionSet().table();
    this.unit = table.unit();
    this.modeWords = 1 << table.modes().size();
    this.bytes = 1 + lane.lookahead();
    this.random = new SplittableRandom(seed);
    this.found = new LaneVectors.Collector(model);
  }

  List<LaneVectors.Vector> make(int randomVectors) {
    List<MapPath> paths = MapPath.all(table);
    paths.forEach(this::rows);
    paths.forEach(this::nextBytes);
    paths.forEach(this::specifiers);
    prefixes();
    for (int i = 0; i < randomVectors; i++) {
      found.add(VectorKind.RANDOM, randomBytes(), random.nextInt(modeWords));
    }
    return found.vectors();
  }

  private byte[] randomBytes() {
    byte[] code = new byte[bytes];
    random.nextBytes(code);
    return code;
  }

  private void rows(MapPath path) {
    for (int opcode = 0; opcode < unit.codes(); opcode++) {
      VectorKind kind =
          lane.leavesOut(path.map().name(), opcode) ? VectorKind.LEFT_OUT : VectorKind.ROW;
      for (int modes = 0; modes < modeWords; modes++) {
        found.add(kind, path.code(randomBytes(), opcode), modes);
      }
    }
  }

  private void nextBytes(MapPath path) {
    for (int opcode = 0; opcode < unit.codes(); opcode++) {
      if (path.map().row(opcode) instanceof Row.ByNextByte) {
        for (int next = 0; next < 256; next++) {
          byte[] code = path.code(randomBytes(), opcode);
          put(code, path.next(), next);
          found.add(VectorKind.NEXT_BYTE, code, random.nextInt(modeWords));
        }
      }
    }
  }

  private void specifiers(MapPath path) {
    OpcodeMap map = path.map();
    for (int group = 0; group < map.groups().size(); group++) {
      int opcode = map.codes(group).findFirst().orElse(-1);
      if (opcode >= 0
          && map.groups().get(group).row() instanceof Row.Instruction row
          && row.specifier().isPresent()) {
        specifier(path, opcode, row.specifier().get());
      }
    }
  }

  private void specifier(MapPath path, int opcode, OperandSpecifier specifier) {
    boolean everyIndex = indexed.add(specifier);
    for (int modes = 0; modes < modeWords; modes++) {
      for (int value = 0; value < 256; value++) {
        int indexBytes =
            specifier.readsNext(value, table.modes(), modes) ? (everyIndex ? 256 : 4) : 1;
        for (int i = 0; i < indexBytes; i++) {
          byte[] code = path.code(randomBytes(), opcode);
          put(code, path.next(), value);
          if (everyIndex) {
            put(code, path.next() + 1, i);
          }
          found.add(VectorKind.SPECIFIER, code, modes);
        }
      }
    }
  }

  private void prefixes() {
    List<Integer> codes = new ArrayList<>(lane.prefixes().keySet());
    for (int first : codes) {
      for (int modes = 0; modes < modeWords; modes++) {
        for (int opcode = 0; opcode < Math.min(256, unit.codes()); opcode++) {
          byte[] code = randomBytes();
          putUnit(code, 0, first);
          putUnit(code, unit.bytes(), opcode);
          found.add(VectorKind.PREFIX, code, modes);
        }
        for (int second : codes) {
          byte[] code = randomBytes();
          putUnit(code, 0, first);
          putUnit(code, unit.bytes(), second);
          found.add(VectorKind.PREFIX, code, modes);
        }
      }
    }
    for (int run = 3; !codes.isEmpty() && run <= lane.mostFolded() + 1; run++) {
      for (int i = 0; i < 256; i++) {
        byte[] code = randomBytes();
        for (int position = 0; position < run; position++) {
          putUnit(code, position * unit.bytes(), codes.get(random.nextInt(codes.size())));
        }
        found.add(VectorKind.PREFIX, code, random.nextInt(modeWords));
      }
    }
  }

  private void putUnit(byte[] code, int position, int value) {
    if (position + unit.bytes() <= code.length) {
      unit.write(value, code, position);
    }
  }

  private static void put(byte[] code, int position, int value) {
    if (position < code.length) {
      code[position] = (byte) value;
    }
  }
}
