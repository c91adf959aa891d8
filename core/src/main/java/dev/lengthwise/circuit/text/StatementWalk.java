package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Node;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * Goes through the statements of a block in the order of every language. A kind of node that is
 * forgotten here does not compile.
 */
public final class StatementWalk {

  private final BlockText text;
  private final Set<Integer> instances = new HashSet<>();

  private StatementWalk(BlockText text) {
    this.text = text;
  }

  /**
   * Hands each statement to what writes it.
   *
   * @param plan the block
   * @param text what writes
   */
  public static void write(EmissionPlan plan, BlockText text) {
    StatementWalk walk = new StatementWalk(text);
    List<Integer> section = new ArrayList<>();
    for (int place : plan.statements()) {
      if (plan.heading(place).isPresent() && !section.isEmpty()) {
        text.sectionEnd(List.copyOf(section));
        section.clear();
      }
      plan.heading(place).ifPresent(text::section);
      section.add(place);
      plan.node(place).accept(walk.new Statement(place));
    }
    text.sectionEnd(List.copyOf(section));
  }

  /** Returns nothing of interest. */
  private final class Statement implements Node.Visitor<Boolean> {

    private final int place;

    private Statement(int place) {
      this.place = place;
    }

    private Boolean expression() {
      text.expression(place);
      return true;
    }

    @Override
    public Boolean input(Node.Input node) {
      throw new IllegalStateException("statement: an input is none, found " + node);
    }

    @Override
    public Boolean constant(Node.Constant node) {
      text.constant(place, node);
      return true;
    }

    @Override
    public Boolean slice(Node.Slice node) {
      return expression();
    }

    @Override
    public Boolean concat(Node.Concat node) {
      return expression();
    }

    @Override
    public Boolean not(Node.Not node) {
      return expression();
    }

    @Override
    public Boolean bitwise(Node.Bitwise node) {
      return expression();
    }

    @Override
    public Boolean reduce(Node.Reduce node) {
      return expression();
    }

    @Override
    public Boolean sum(Node.Sum node) {
      return expression();
    }

    @Override
    public Boolean compare(Node.Compare node) {
      return expression();
    }

    @Override
    public Boolean select(Node.Select node) {
      text.select(place, node);
      return true;
    }

    @Override
    public Boolean lookup(Node.Lookup node) {
      text.lookup(place, node);
      return true;
    }

    @Override
    public Boolean register(Node.Register node) {
      return true;
    }

    @Override
    public Boolean directRead(Node.DirectRead node) {
      text.directRead(place, node);
      return true;
    }

    @Override
    public Boolean registeredRead(Node.RegisteredRead node) {
      return true;
    }

    @Override
    public Boolean instanceOutput(Node.InstanceOutput node) {
      if (instances.add(node.instance())) {
        text.instance(place, node.instance());
      }
      return true;
    }
  }
}
