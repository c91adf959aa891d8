package dev.lengthwise.logic.rewrite;

/** Lists of fan-ins. */
final class FanIns {

  private FanIns() {}

  static boolean contains(int[] signals, int signal) {
    for (int s : signals) {
      if (s == signal) {
        return true;
      }
    }
    return false;
  }

  static int[] without(int[] signals, int index) {
    int[] rest = new int[signals.length - 1];
    System.arraycopy(signals, 0, rest, 0, index);
    System.arraycopy(signals, index + 1, rest, index, rest.length - index);
    return rest;
  }
}
