package dev.lengthwise.examples.set;

import dev.lengthwise.isa.SetProvider;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.table.InstructionSet;

/** Tidegate by the name {@code tidegate}. */
public final class TidegateSet implements SetProvider {

  /** Makes the provider. */
  public TidegateSet() {}

  @Override
  public String name() {
    return "tidegate";
  }

  @Override
  public InstructionSet instructionSet() {
    return Tidegate.instructionSet();
  }

  @Override
  public String title() {
    return "Tidegate";
  }

  @Override
  public Predecoder lane() {
    return Tidegate.lane();
  }
}
