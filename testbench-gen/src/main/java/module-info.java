/** Golden vectors, self-checking testbenches, simulator runners and the Java reference model. */
module dev.lengthwise.testbench {
  requires com.palantir.javapoet;
  requires java.compiler;
  requires transitive dev.lengthwise.core;

  exports dev.lengthwise.javamodel;
  exports dev.lengthwise.testbench;
}
