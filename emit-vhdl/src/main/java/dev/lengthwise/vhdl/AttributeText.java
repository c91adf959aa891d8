package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.text.Attribute;

/**
 * An attribute as VHDL writes it.
 *
 * @param name its name
 * @param type the predefined type of its value
 * @param value the value
 */
record AttributeText(String name, String type, String value) {

  static AttributeText of(Attribute attribute) {
    String value = attribute.value().orElse("true");
    String type = value.startsWith("\"") ? "string" : value.equals("true") ? "boolean" : "integer";
    return new AttributeText(attribute.name(), type, value);
  }

  /** Returns the declaration, which must come once before all uses. */
  String declaration() {
    return "attribute " + name + " : " + type + ";";
  }

  /** Returns the specification of its value for something of a class, such as a signal. */
  String on(String what, String entityClass) {
    return "attribute " + name + " of " + what + " : " + entityClass + " is " + value + ";";
  }
}
