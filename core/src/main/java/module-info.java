/** Length models, logic minimisation and mapping, the hardware graph and the front-end study. */
module dev.lengthwise.core {
  requires org.jgrapht.core;
  requires org.ow2.sat4j.core;

  exports dev.lengthwise.circuit;
  exports dev.lengthwise.golden;
  exports dev.lengthwise.isa;
  exports dev.lengthwise.device;
  exports dev.lengthwise.logic;
  exports dev.lengthwise.name;
  exports dev.lengthwise.predecode;
  exports dev.lengthwise.realize;
  exports dev.lengthwise.table;
}
