package dev.lengthwise.testbench;

import dev.lengthwise.javamodel.JavaModel;
import dev.lengthwise.testbench.flow.ClockConstraints;
import dev.lengthwise.testbench.flow.OpenFlow;
import dev.lengthwise.testbench.flow.TimingTrial;
import dev.lengthwise.testbench.run.Ghdl;
import dev.lengthwise.testbench.run.IcarusVerilog;
import dev.lengthwise.testbench.run.Verilator;
import dev.lengthwise.testbench.vector.ArrayVectors;
import dev.lengthwise.testbench.vector.FetchVectors;
import dev.lengthwise.testbench.vector.LaneVectors;
import dev.lengthwise.testing.CoreSamples;
import dev.lengthwise.testing.Doors;
import java.time.Duration;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** Holds what this module shows to everybody. */
class DoorsTest {

  @Test
  void exports_areFacesOnly() throws Exception {
    Doors.ofThisModule().checkCount(16);
  }

  @Test
  void factories_followOneRule() throws Exception {
    Doors.ofThisModule().checkFactories(CoreSamples.calls(), Set.of());
  }

  @Test
  void nulls_areRefusedEverywhere() throws Exception {
    CoreSamples.calls()
        .with(JavaModel.class, JavaModel::new)
        .with(Testbenches.class, Testbenches::new)
        .with(IcarusVerilog.class, IcarusVerilog::new)
        .with(Verilator.class, Verilator::new)
        .with(Ghdl.class, () -> new Ghdl(Ghdl.Edition.IEEE_1993))
        .with(OpenFlow.class, OpenFlow::new)
        .with(TimingTrial.class, () -> new TimingTrial(circuit -> List.of()))
        .with(ClockConstraints.class, () -> ClockConstraints.of(8))
        .with(Duration.class, () -> Duration.ZERO)
        .with(Appendable.class, StringBuilder::new)
        .with(LaneVectors.class, () -> LaneVectors.of(CoreSamples.lane(), 1, 1))
        .with(ArrayVectors.class, () -> ArrayVectors.random(CoreSamples.row(), 1, 1))
        .with(FetchVectors.class, () -> FetchVectors.random(CoreSamples.unit(), 1, 1))
        .with(ArrayVectors.Code.class, () -> ArrayVectors.Code.of(new byte[8], new int[] {0}, 0))
        .check(Doors.ofThisModule().types(), 31);
  }

  @Test
  void signatures_nameWhatEverybodyCanName() throws Exception {
    Doors.ofThisModule().checkSignatures();
  }
}
