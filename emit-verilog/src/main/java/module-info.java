/** Hardware graph to IEEE 1364-2005 text. */
module dev.lengthwise.verilog {
  requires transitive dev.lengthwise.core;

  exports dev.lengthwise.verilog;
}
