/** Length models, logic minimisation and mapping, the hardware graph and the front-end study. */
@SuppressWarnings("module") // the emitters are other modules of the reactor, compiled later
module dev.lengthwise.core {
  requires org.apache.commons.csv;
  requires org.apache.commons.text;
  requires org.jgrapht.core;
  requires org.ow2.sat4j.core;

  exports dev.lengthwise.cache;
  exports dev.lengthwise.circuit;
  exports dev.lengthwise.circuit.text to
      dev.lengthwise.verilog,
      dev.lengthwise.vhdl,
      dev.lengthwise.testbench;
  exports dev.lengthwise.device;
  exports dev.lengthwise.file;
  exports dev.lengthwise.golden;
  exports dev.lengthwise.isa;
  exports dev.lengthwise.logic;
  exports dev.lengthwise.name;
  exports dev.lengthwise.predecode;
  exports dev.lengthwise.realize;
  exports dev.lengthwise.report;
  exports dev.lengthwise.stream;
  exports dev.lengthwise.study;
  exports dev.lengthwise.table;
  exports dev.lengthwise.work;
}
