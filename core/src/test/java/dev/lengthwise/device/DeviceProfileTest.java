package dev.lengthwise.device;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;

class DeviceProfileTest {

  @Test
  void toBuilder_keepsEveryField() {
    DeviceProfile profile =
        DeviceProfile.named("mine", 5)
            .pairInputs(4)
            .wideMuxes(true)
            .blockRam(256, 8, 1)
            .distributedRam(32, 1, 0)
            .registerDelay(0.7, 0.8)
            .levelDelay(0.1, 0.2)
            .wireDelay(0.05, 0.15)
            .blockRamDelay(0.3, 0.4)
            .distributedRamDelay(0.5, 0.6)
            .pinDelays(0.5, 0.4, 0.4, 0.4, 0.2)
            .fanOutDelay(0.01)
            .build();
    assertThat(profile.toBuilder().build()).isEqualTo(profile);
    assertThat(profile.pinDelays()).containsExactly(0.5, 0.4, 0.4, 0.4, 0.2).inOrder();
    assertThat(profile.toBuilder().fanOutDelay(0.02).build()).isNotEqualTo(profile);
    assertThat(profile.toBuilder().pinDelays(0.5, 0.4, 0.4, 0.4, 0.3).build())
        .isNotEqualTo(profile);
    assertThat(profile.toBuilder().registerDelay(0.7, 0.9).build()).isNotEqualTo(profile);
    assertThat(profile.toBuilder().levelDelay(0.1, 0.3).build()).isNotEqualTo(profile);
    assertThat(profile.toBuilder().wireDelay(0.05, 0.25).build()).isNotEqualTo(profile);
    assertThat(profile.blockRams().get(0).toString()).isEqualTo("256 x 8+1");
    assertThat(profile.blockRams().get(0).bits()).isEqualTo(2304);
  }

  @Test
  void profiles_ready_haveTheirLutSize() {
    assertThat(DeviceProfile.sixInputDualOutput().pairInputs()).isEqualTo(5);
    assertThat(DeviceProfile.sixInput().lutInputs()).isEqualTo(6);
    assertThat(DeviceProfile.fiveInput().lutInputs()).isEqualTo(5);
    assertThat(DeviceProfile.fourInput().distributedRams()).isEmpty();
  }

  @Test
  void pairInputs_pastLutInputs_saysRange() {
    assertThat(
            assertThrows(
                IllegalArgumentException.class, () -> DeviceProfile.named("mine", 5).pairInputs(6)))
        .hasMessageThat()
        .isEqualTo("device profile: the pair inputs must be in [0, 5], found 6");
  }

  @Test
  void pinDelays_badValues_areRejected() {
    DeviceProfile.Builder builder = DeviceProfile.named("mine", 4);
    assertThat(assertThrows(IllegalArgumentException.class, () -> builder.pinDelays(1, 1, 1)))
        .hasMessageThat()
        .isEqualTo("device profile: a delay for each of 4 inputs of a lut is expected, found 3");
    assertThat(assertThrows(IllegalArgumentException.class, () -> builder.pinDelays(1, 1, 1, 0)))
        .hasMessageThat()
        .isEqualTo("device profile: the delay of a pin must be in [0.001, 1000] ns, found 0.0");
    assertThat(assertThrows(IllegalArgumentException.class, () -> builder.fanOutDelay(-1)))
        .hasMessageThat()
        .isEqualTo(
            "device profile: the delay of a further reader must be in [0, 1000] ns, found -1.0");
    builder.fanOutDelay(0.1);
    assertThat(assertThrows(IllegalStateException.class, builder::build))
        .hasMessageThat()
        .isEqualTo(
            "device profile: a delay of further readers needs the delays of pins, found none");
  }

  @Test
  void build_shapeTwice_isRejected() {
    DeviceProfile.Builder builder =
        DeviceProfile.named("mine", 6).blockRam(512, 8, 0).blockRam(512, 8, 0);
    assertThat(assertThrows(IllegalStateException.class, builder::build))
        .hasMessageThat()
        .isEqualTo("device profile: ram shapes must differ, found [512 x 8, 512 x 8]");
  }

  @Test
  void delayRange_wrongOrder_isRejected() {
    assertThat(
            assertThrows(IllegalArgumentException.class, () -> new DeviceProfile.DelayRange(2, 1)))
        .hasMessageThat()
        .isEqualTo("delay range: must be 0 <= fastest <= slowest < 1e6 ns, found 2.0 and 1.0");
    assertThat(new DeviceProfile.DelayRange(1, 2).times(3).plus(new DeviceProfile.DelayRange(0, 1)))
        .isEqualTo(new DeviceProfile.DelayRange(3, 7));
  }
}
