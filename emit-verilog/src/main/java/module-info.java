import org.jspecify.annotations.NullMarked;

/** Hardware graph to IEEE 1364-2005 text. */
@NullMarked
module dev.lengthwise.verilog {
  requires transitive dev.lengthwise.core;

  exports dev.lengthwise.verilog;
}
