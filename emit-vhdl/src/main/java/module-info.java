import org.jspecify.annotations.NullMarked;

/** Hardware graph to IEEE 1076 text. */
@NullMarked
module dev.lengthwise.vhdl {
  requires transitive dev.lengthwise.core;
  requires org.apache.commons.text;

  exports dev.lengthwise.vhdl;
}
