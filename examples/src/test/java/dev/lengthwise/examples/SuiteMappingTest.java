package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.suite.Suite;
import dev.lengthwise.examples.suite.SuiteFunction;
import dev.lengthwise.examples.suite.SuiteResults;
import dev.lengthwise.examples.suite.SuiteResults.Entry;
import dev.lengthwise.examples.suite.SuiteResults.Size;
import dev.lengthwise.examples.suite.SuiteResults.Subject;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.testbench.yardstick.Yosys;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.Slow;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * The mapper makes of the suite what is kept of its latest version, and so does the tool: small
 * functions in every build, in LUTs of six inputs and of four in turn, all of them in both with
 * {@code -Dwhole=true}, in an hour.
 */
class SuiteMappingTest {

  private static final List<String> SMALL =
      List.of("add_3_3_carry", "square_6", "rd73", "des_s1", "random_7_4");

  private static final SuiteResults STORED = SuiteResults.stored();

  private static List<SuiteFunction> functions(int small) {
    return Suite.functions().stream()
        .filter(function -> Extent.isWhole() || SMALL.subList(0, small).contains(function.name()))
        .toList();
  }

  private static List<DeviceProfile> devices(SuiteFunction function) {
    List<DeviceProfile> both =
        List.of(DeviceProfile.sixInputDualOutput(), DeviceProfile.fourInput());
    return Extent.isWhole() ? both : List.of(both.get(SMALL.indexOf(function.name()) % 2));
  }

  private static Entry latest(SuiteFunction function, int lutInputs, boolean bounded) {
    return STORED
        .find(STORED.latest(), new Subject(function.name(), lutInputs, Effort.QUICK, bounded))
        .orElseThrow();
  }

  @Test
  @Slow
  void map_isNoWorseThanWhatIsStored() {
    for (SuiteFunction function : functions(5)) {
      for (DeviceProfile device : devices(function)) {
        MappedFunction mapped = MappedFunction.Tables.of(function);
        Entry free = latest(function, device.lutInputs(), false);
        MappedFunction.Figures ours = mapped.map(device, Effort.QUICK);
        assertThat(ours.proved()).isTrue();
        assertWithMessage("%s K=%s", function.name(), device.lutInputs())
            .that(ours.luts())
            .isAtMost(free.ours().luts());
      }
    }
  }

  /** The last LUT of a small network within a bound is won by one try of several to lower it. */
  @Test
  @Slow
  void map_adderWithinTheToolsLevels_isNoLarger() {
    SuiteFunction adder =
        Suite.functions().stream()
            .filter(function -> function.name().equals("add_6_6_carry"))
            .findFirst()
            .orElseThrow();
    MappedFunction.Figures ours =
        MappedFunction.Tables.of(adder)
            .withMostLevels(5)
            .map(DeviceProfile.fourInput(), Effort.QUICK);
    assertThat(ours.proved()).isTrue();
    assertThat(ours.levels()).isAtMost(5);
    assertThat(ours.luts()).isAtMost(latest(adder, 4, true).tool().luts());
  }

  @Test
  @Slow
  void map_withinTheToolsLevels_isNoWorseThanWhatIsStored() {
    for (SuiteFunction function : functions(2)) {
      for (DeviceProfile device : devices(function)) {
        Entry bounded = latest(function, device.lutInputs(), true);
        int bound = Math.max(1, bounded.tool().levels());
        MappedFunction.Figures ours =
            MappedFunction.Tables.of(function).withMostLevels(bound).map(device, Effort.QUICK);
        assertThat(ours.proved()).isTrue();
        assertThat(ours.levels()).isAtMost(Math.max(bound, bounded.ours().levels()));
        assertWithMessage("%s K=%s", function.name(), device.lutInputs())
            .that(ours.luts())
            .isAtMost(bounded.ours().luts());
      }
    }
  }

  /** A tool of today that does better than what is stored would make our figures too good. */
  @Test
  @CallsTools
  void tool_isNoBetterThanWhatIsStored() {
    for (SuiteFunction function : functions(1)) {
      for (int lutInputs : new int[] {6, 4}) {
        Size stored = latest(function, lutInputs, false).tool();
        Yosys.Figure today =
            new Yosys().best(MappedFunction.Tables.of(function).texts(), lutInputs);
        assertWithMessage("%s K=%s", function.name(), lutInputs)
            .that(today.luts())
            .isAtLeast(stored.luts());
      }
    }
  }
}
