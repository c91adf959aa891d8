import org.jspecify.annotations.NullMarked;

/** Golden vectors, self-checking testbenches, simulator runners and the Java reference model. */
@SuppressWarnings("module") // the examples are another module of the reactor, compiled later
@NullMarked
module dev.lengthwise.testbench {
  requires com.palantir.javapoet;
  requires java.compiler;
  requires transitive dev.lengthwise.core;

  exports dev.lengthwise.javamodel;
  exports dev.lengthwise.testbench;
  exports dev.lengthwise.testbench.flow;
  exports dev.lengthwise.testbench.run;
  exports dev.lengthwise.testbench.vector;
  exports dev.lengthwise.testbench.yardstick to
      dev.lengthwise.examples;
}
