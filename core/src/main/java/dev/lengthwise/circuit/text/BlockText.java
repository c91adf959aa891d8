package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Node;
import java.util.List;

/**
 * How a language writes the statements of a block. {@link StatementWalk} calls it, in the order in
 * which they stand.
 */
public interface BlockText {

  /**
   * Starts a section.
   *
   * @param heading any text
   */
  void section(String heading);

  /**
   * Writes a signal that one expression computes.
   *
   * @param place the place of its node
   */
  void expression(int place);

  /**
   * Writes a constant that has a name.
   *
   * @param place its place
   * @param constant the node
   */
  void constant(int place, Node.Constant constant);

  /**
   * Writes a choice by number.
   *
   * @param place its place
   * @param select the node
   */
  void select(int place, Node.Select select);

  /**
   * Writes a lookup.
   *
   * @param place its place
   * @param lookup the node
   */
  void lookup(int place, Node.Lookup lookup);

  /**
   * Writes a read in the same cycle.
   *
   * @param place its place
   * @param read the node
   */
  void directRead(int place, Node.DirectRead read);

  /**
   * Writes an instance, at the first of its outputs that is read.
   *
   * @param place the place of that output
   * @param instance the instance's place in the circuit's list
   */
  void instance(int place, int instance);

  /**
   * Ends a section. Registers and reads at a clock edge in it were not written yet.
   *
   * @param places all places of the section
   */
  void sectionEnd(List<Integer> places);
}
