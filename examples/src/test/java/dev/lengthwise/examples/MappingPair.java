package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.testbench.yardstick.Yosys;

/** Our figures of a function and those of Yosys, in the same run. */
record MappingPair(MappedFunction.Figures ours, Yosys.Figure tool) {

  static MappingPair of(MappedFunction function, DeviceProfile device, Effort effort) {
    MappedFunction.Figures ours = function.map(device, effort);
    Yosys.Figure tool = new Yosys().best(function.texts(), device.lutInputs());
    System.out.printf(
        "%s K=%d: ours %d LUTs, %d levels; Yosys %d LUTs, %d levels%n",
        function.name(),
        device.lutInputs(),
        ours.luts(),
        ours.levels(),
        tool.luts(),
        tool.levels());
    assertThat(ours.proved()).isTrue();
    return new MappingPair(ours, tool);
  }
}
