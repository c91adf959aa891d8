package dev.lengthwise.logic.rewrite;

import dev.lengthwise.logic.network.DelayModel;

/**
 * When the signals of a network are there, and what is behind them, as the network is now and its
 * model of delays has it. In the model of levels: the level of each LUT, and the levels behind it.
 */
final class Timing {

  private final EditableNetwork net;
  private final DelayModel delays;
  private final int[] spread;
  private final int[] times;
  private final int[] behind;

  private Timing(EditableNetwork net) {
    this.net = net;
    this.delays = net.delays();
    this.spread = new int[net.inputs + net.fanIns.length];
    this.times = new int[net.inputs + net.fanIns.length];
    this.behind = new int[net.inputs + net.fanIns.length];
  }

  static Timing of(EditableNetwork net) {
    Timing timing = new Timing(net);
    if (!timing.delays.isUniform()) {
      timing.spread();
    }
    timing.forwards();
    timing.backwards();
    return timing;
  }

  private void spread() {
    int[] readers = new int[spread.length];
    for (int slot : net.order()) {
      for (int signal : net.fanIns[slot]) {
        readers[signal]++;
      }
    }
    for (int signal : net.outputs) {
      if (signal >= 0) {
        readers[signal]++;
      }
    }
    for (int signal = 0; signal < spread.length; signal++) {
      spread[signal] = delays.spread(readers[signal]);
    }
  }

  private void forwards() {
    for (int i = 0; i < net.inputs; i++) {
      times[i] = delays.arrival(i);
    }
    for (int slot : net.order()) {
      times[net.inputs + slot] = lut(net.fanIns[slot]);
    }
  }

  private void backwards() {
    for (int o = 0; o < net.outputs.length; o++) {
      int signal = net.outputs[o];
      if (signal >= 0) {
        behind[signal] = Math.max(behind[signal], spread[signal] + delays.after(o));
      }
    }
    int[] sequence = net.order();
    for (int i = sequence.length - 1; i >= 0; i--) {
      int slot = sequence[i];
      int[] fanIns = net.fanIns[slot];
      int[] through = delays.isUniform() ? null : through(slot);
      for (int k = 0; k < fanIns.length; k++) {
        int own = through == null ? delays.level() : spread[fanIns[k]] + through[k];
        int after = own + behind[net.inputs + slot];
        behind[fanIns[k]] = Math.max(behind[fanIns[k]], after);
      }
    }
  }

  /** Returns what each fan-in of a slot takes through its LUT. */
  private int[] through(int slot) {
    int[] at = new int[net.fanIns[slot].length];
    for (int k = 0; k < at.length; k++) {
      at[k] = read(net.fanIns[slot][k]);
    }
    return delays.through(at);
  }

  /** Returns when a LUT of some fan-ins is there, as far as their readers stay as many. */
  int lut(int[] fanIns) {
    if (delays.isUniform()) {
      int latest = 0;
      for (int signal : fanIns) {
        latest = Math.max(latest, times[signal]);
      }
      return latest + delays.level();
    }
    int[] at = new int[fanIns.length];
    for (int k = 0; k < at.length; k++) {
      at[k] = read(fanIns[k]);
    }
    return delays.lut(at);
  }

  /** Returns when the LUT of a slot is there. */
  int time(int slot) {
    return times[net.inputs + slot];
  }

  /** Returns when a signal is there for those that read it. */
  int read(int signal) {
    return times[signal] + spread[signal];
  }

  /** Returns the longest time from the LUT of a slot to an output. */
  int behind(int slot) {
    return behind[net.inputs + slot];
  }

  /** Returns the time of the latest path. */
  int delay() {
    int delay = 0;
    for (int signal = 0; signal < times.length; signal++) {
      boolean there = signal < net.inputs || net.fanIns[signal - net.inputs] != null;
      delay = there ? Math.max(delay, times[signal] + behind[signal]) : delay;
    }
    return delay;
  }

  /** Tells whether a path through a fan-in of a slot takes longer than a time. */
  boolean isLonger(int slot, int fanIn, int than) {
    int through = delays.isUniform() ? delays.level() : through(slot)[fanIn];
    return read(net.fanIns[slot][fanIn]) + through + behind(slot) > than;
  }
}
