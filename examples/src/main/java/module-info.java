import org.jspecify.annotations.NullMarked;

/** Runnable build scripts in the scenario of Tidegate, the controller of a tidal lock gate. */
@NullMarked
module dev.lengthwise.examples {
  requires dev.lengthwise.core;
  requires dev.lengthwise.testbench;
  requires dev.lengthwise.verilog;
  requires dev.lengthwise.vhdl;
  requires info.picocli;
  requires jmh.core;
  requires me.tongfei.progressbar;

  opens dev.lengthwise.examples to
      info.picocli;

  provides dev.lengthwise.isa.SetProvider with
      dev.lengthwise.examples.set.Ia32DefinedSet,
      dev.lengthwise.examples.set.ReferenceSet,
      dev.lengthwise.examples.set.TidegateSet;
}
