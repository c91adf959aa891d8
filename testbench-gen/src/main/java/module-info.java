/** Golden vectors, self-checking testbenches, simulator runners and the Java reference model. */
module dev.lengthwise.testbench {
  requires transitive dev.lengthwise.core;

  exports dev.lengthwise.testbench;
}
