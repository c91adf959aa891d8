package dev.lengthwise.lane.network;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Cuts the network of a lane in two: LUTs that compute the same function of the bytes at different
 * bytes, which in a row of lanes are computed once for each byte, and the rest.
 *
 * <p>The inputs are as {@link LaneMapping} states: bit i of byte p is input {@code 8 * p + i},
 * modes follow. Two LUTs have the same function if their cones are equal but for a shift by whole
 * bytes.
 *
 * @param atByte the shared LUTs, moved to byte 0: inputs are the bytes from 0 on, then the modes;
 *     outputs are read by lanes
 * @param atLane the rest: inputs are those of the network, then one for each {@link Reading}
 * @param readings what a lane reads from bytes, in the order of its inputs
 * @param bytes the bytes that {@code atByte} reads
 * @param byteSources for each LUT of {@code atByte}, one that it stands for in the network
 * @param laneSources for each LUT of {@code atLane}, that which it is in the network
 */
public record ByteSharing(
    LutNetwork atByte,
    LutNetwork atLane,
    List<Reading> readings,
    int bytes,
    List<Integer> byteSources,
    List<Integer> laneSources) {

  /**
   * An input of a lane that a byte's block drives.
   *
   * @param position the byte, counted from the lane's own
   * @param output the index of the output of {@code atByte}
   */
  public record Reading(int position, int output) {}

  /**
   * Copies the lists.
   *
   * @param atByte see ByteSharing
   * @param atLane see ByteSharing
   * @param readings see ByteSharing
   * @param bytes see ByteSharing
   * @param byteSources see ByteSharing
   * @param laneSources see ByteSharing
   */
  public ByteSharing {
    readings = List.copyOf(readings);
    byteSources = List.copyOf(byteSources);
    laneSources = List.copyOf(laneSources);
  }

  /**
   * Cuts a network.
   *
   * @param network the network of a lane
   * @param laneBytes the bytes among its inputs; the inputs behind them are modes
   * @return the two parts
   */
  public static ByteSharing of(LutNetwork network, int laneBytes) {
    return new Cutter(network, laneBytes).cut();
  }

  /** What a LUT computes, but for the byte that it starts at. */
  private record Shape(List<FanIn> fanIns, TruthTable table) {}

  /** A fan-in relative to the first byte of its LUT's cone: a bit, a mode, or a class of LUTs. */
  private record FanIn(int kind, int shift, int index) {}

  private static final class Cutter {

    private static final Comparator<FanIn> ORDER =
        Comparator.comparingInt(FanIn::kind)
            .thenComparingInt(FanIn::shift)
            .thenComparingInt(FanIn::index);

    private final LutNetwork network;
    private final int inputs;
    private final int byteInputs;
    private final int[] first;
    private final int[] last;
    private final int[] shapeOf;
    private final Map<Shape, Integer> shapes = new HashMap<>();
    private final List<Set<Integer>> places = new ArrayList<>();

    Cutter(LutNetwork network, int laneBytes) {
      this.network = network;
      this.inputs = network.inputNames().size();
      this.byteInputs = 8 * laneBytes;
      int luts = network.luts().size();
      this.first = new int[luts];
      this.last = new int[luts];
      this.shapeOf = new int[luts];
      for (int lut = 0; lut < luts; lut++) {
        Work.check();
        span(lut);
        Integer shape = shapes.computeIfAbsent(shape(lut), s -> places.size());
        if (shape == places.size()) {
          places.add(new HashSet<>());
        }
        shapeOf[lut] = shape;
        places.get(shape).add(first[lut]);
      }
    }

    private boolean isByte(int signal) {
      return signal < byteInputs;
    }

    private void span(int lut) {
      first[lut] = Integer.MAX_VALUE;
      last[lut] = -1;
      for (int signal : network.luts().get(lut).fanIns()) {
        if (isByte(signal)) {
          first[lut] = Math.min(first[lut], signal / 8);
          last[lut] = Math.max(last[lut], signal / 8);
        } else if (signal >= inputs) {
          first[lut] = Math.min(first[lut], first[signal - inputs]);
          last[lut] = Math.max(last[lut], last[signal - inputs]);
        }
      }
    }

    private Shape shape(int lut) {
      LutNetwork.Lut own = network.luts().get(lut);
      List<FanIn> fanIns = new ArrayList<>();
      for (int signal : own.fanIns()) {
        if (isByte(signal)) {
          fanIns.add(new FanIn(0, signal / 8 - first[lut], signal % 8));
        } else if (signal < inputs) {
          fanIns.add(new FanIn(1, 0, signal));
        } else {
          int source = signal - inputs;
          boolean anywhere = first[source] == Integer.MAX_VALUE;
          fanIns.add(new FanIn(2, anywhere ? 0 : first[source] - first[lut], shapeOf[source]));
        }
      }
      List<FanIn> sorted = new ArrayList<>(fanIns);
      sorted.sort(ORDER);
      int[] place = fanIns.stream().mapToInt(sorted::indexOf).toArray();
      TruthTable table =
          TruthTable.of(
              sorted.size(),
              point -> {
                int asked = 0;
                for (int i = 0; i < place.length; i++) {
                  asked |= (point >> place[i] & 1) << i;
                }
                return own.table().isOn(asked);
              });
      return new Shape(sorted, table);
    }

    private boolean isShared(int lut) {
      return first[lut] != Integer.MAX_VALUE && places.get(shapeOf[lut]).size() > 1;
    }

    ByteSharing cut() {
      List<Integer> roots = roots();
      int bytes = Math.max(1, roots.stream().mapToInt(r -> last[r] - first[r] + 1).max().orElse(1));
      List<String> names = new ArrayList<>();
      for (int bit = 0; bit < 8 * bytes; bit++) {
        names.add("code_" + bit);
      }
      names.addAll(network.inputNames().subList(byteInputs, inputs));
      LutNetworkBuilder atByte = LutNetwork.builder(names);
      Map<Integer, Integer> outputOfShape = new LinkedHashMap<>();
      Mover mover = new Mover(8 * bytes, atByte);
      for (int root : roots) {
        if (!outputOfShape.containsKey(shapeOf[root])) {
          int signal = mover.moved(root, first[root], new HashMap<>());
          atByte.output("work_" + outputOfShape.size(), signal);
          outputOfShape.put(shapeOf[root], outputOfShape.size());
        }
      }
      LutNetwork built = atByte.build();
      return rest(built, sources(atByte, built, mover.sourceOf), outputOfShape, roots, bytes);
    }

    /** Returns the shared LUTs that a LUT which is not shared, or an output, reads. */
    private List<Integer> roots() {
      Set<Integer> read = new HashSet<>();
      for (int lut = 0; lut < first.length; lut++) {
        if (!isShared(lut)) {
          read.addAll(network.luts().get(lut).fanIns());
        }
      }
      network.outputs().forEach(output -> read.add(output.signal()));
      List<Integer> roots = new ArrayList<>();
      for (int lut = 0; lut < first.length; lut++) {
        if (isShared(lut) && read.contains(inputs + lut)) {
          roots.add(lut);
        }
      }
      return roots;
    }

    /** Copies cones of shared LUTs into the block at a byte. */
    private final class Mover {

      private final int modesFrom;
      private final LutNetworkBuilder builder;
      private final Map<Integer, Integer> sourceOf = new HashMap<>();

      Mover(int modesFrom, LutNetworkBuilder builder) {
        this.modesFrom = modesFrom;
        this.builder = builder;
      }

      /** Adds the cone of a LUT, so many bytes earlier, and returns its signal. */
      int moved(int lut, int shift, Map<Integer, Integer> known) {
        Integer found = known.get(lut);
        if (found != null) {
          return found;
        }
        List<Integer> fanIns = network.luts().get(lut).fanIns();
        int[] signals = new int[fanIns.size()];
        for (int i = 0; i < signals.length; i++) {
          int signal = fanIns.get(i);
          signals[i] =
              isByte(signal)
                  ? signal - 8 * shift
                  : signal < inputs
                      ? signal - byteInputs + modesFrom
                      : moved(signal - inputs, shift, known);
        }
        int signal = builder.lut(network.luts().get(lut).table(), signals);
        known.put(lut, signal);
        sourceOf.putIfAbsent(signal, lut);
        return signal;
      }
    }

    private static List<Integer> sources(
        LutNetworkBuilder builder, LutNetwork built, Map<Integer, Integer> sourceOf) {
      List<Integer> sources = new ArrayList<>(Collections.nCopies(built.luts().size(), -1));
      int builtInputs = built.inputNames().size();
      sourceOf.forEach(
          (signal, lut) -> {
            int place = builder.builtSignal(signal) - builtInputs;
            if (place >= 0) {
              sources.set(place, lut);
            }
          });
      return sources;
    }

    private ByteSharing rest(
        LutNetwork atByte,
        List<Integer> byteSources,
        Map<Integer, Integer> outputOfShape,
        List<Integer> roots,
        int bytes) {
      List<String> names = new ArrayList<>(network.inputNames());
      List<Reading> readings = new ArrayList<>();
      Map<Integer, Integer> signals = new HashMap<>();
      for (int root : roots) {
        Reading reading = new Reading(first[root], outputOfShape.get(shapeOf[root]));
        int place = readings.indexOf(reading);
        if (place < 0) {
          place = readings.size();
          readings.add(reading);
          names.add("work_" + reading.output() + "_at_" + reading.position());
        }
        signals.put(inputs + root, inputs + place);
      }
      LutNetworkBuilder atLane = LutNetwork.builder(names);
      Map<Integer, Integer> sourceOf = new HashMap<>();
      for (int lut = 0; lut < first.length; lut++) {
        if (!isShared(lut)) {
          int[] fanIns =
              network.luts().get(lut).fanIns().stream()
                  .mapToInt(s -> s < inputs ? s : signals.get(s))
                  .toArray();
          int signal = atLane.lut(network.luts().get(lut).table(), fanIns);
          signals.put(inputs + lut, signal);
          sourceOf.putIfAbsent(signal, lut);
        }
      }
      network
          .outputs()
          .forEach(
              o ->
                  atLane.output(
                      o.name(), o.signal() < inputs ? o.signal() : signals.get(o.signal())));
      LutNetwork built = atLane.build();
      return new ByteSharing(
          atByte, built, readings, bytes, byteSources, sources(atLane, built, sourceOf));
    }
  }
}
