import org.jspecify.annotations.NullMarked;

/** Length models, logic minimisation and mapping, the hardware graph and the front-end study. */
@SuppressWarnings("module") // the emitters are other modules of the reactor, compiled later
@NullMarked
module dev.lengthwise.core {
  requires org.apache.commons.csv;
  requires org.apache.commons.text;
  requires org.jgrapht.core;
  requires org.ow2.sat4j.core;
  requires static transitive org.jspecify;

  exports dev.lengthwise.cache;
  exports dev.lengthwise.cancel;
  exports dev.lengthwise.circuit;
  exports dev.lengthwise.circuit.text to
      dev.lengthwise.verilog,
      dev.lengthwise.vhdl,
      dev.lengthwise.testbench;
  exports dev.lengthwise.circuit.simulate to
      dev.lengthwise.testbench;
  exports dev.lengthwise.circuit.translated to
      dev.lengthwise.verilog,
      dev.lengthwise.vhdl,
      dev.lengthwise.testbench,
      dev.lengthwise.examples;
  exports dev.lengthwise.device;
  exports dev.lengthwise.file to
      dev.lengthwise.testbench,
      dev.lengthwise.examples;
  exports dev.lengthwise.golden;
  exports dev.lengthwise.isa;
  exports dev.lengthwise.isa.set to
      dev.lengthwise.examples;
  exports dev.lengthwise.lane.function to
      dev.lengthwise.testbench;
  exports dev.lengthwise.lane.support to
      dev.lengthwise.examples;
  exports dev.lengthwise.logic;
  exports dev.lengthwise.logic.function to
      dev.lengthwise.testbench,
      dev.lengthwise.examples;
  exports dev.lengthwise.logic.map to
      dev.lengthwise.examples;
  exports dev.lengthwise.logic.network to
      dev.lengthwise.examples;
  exports dev.lengthwise.logic.proof to
      dev.lengthwise.examples;
  exports dev.lengthwise.name to
      dev.lengthwise.verilog,
      dev.lengthwise.vhdl,
      dev.lengthwise.testbench;
  exports dev.lengthwise.predecode;
  exports dev.lengthwise.predecode.row to
      dev.lengthwise.testbench;
  exports dev.lengthwise.realize;
  exports dev.lengthwise.realize.cost;
  exports dev.lengthwise.report;
  exports dev.lengthwise.stream;
  exports dev.lengthwise.study.accuracy;
  exports dev.lengthwise.study.advice;
  exports dev.lengthwise.study.fetch;
  exports dev.lengthwise.study.make to
      dev.lengthwise.examples;
  exports dev.lengthwise.study.sweep;
  exports dev.lengthwise.study.workload;
  exports dev.lengthwise.table;
  exports dev.lengthwise.work to
      dev.lengthwise.testbench;

  uses dev.lengthwise.isa.SetProvider;

  provides dev.lengthwise.isa.SetProvider with
      dev.lengthwise.isa.set.Ia32Set;
}
