package dev.lengthwise.examples.set;

import dev.lengthwise.isa.SetProvider;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.table.InstructionSet;

/** The set of the lane by which mappers are compared, by the name {@code reference}. */
public final class ReferenceSet implements SetProvider {

  /** Makes the provider. */
  public ReferenceSet() {}

  @Override
  public String name() {
    return "reference";
  }

  @Override
  public InstructionSet instructionSet() {
    return lane().instructionSet();
  }

  @Override
  public Predecoder lane() {
    return ReferenceLane.read().lane(true);
  }
}
