package dev.lengthwise.examples.set;

import dev.lengthwise.isa.SetProvider;
import dev.lengthwise.isa.set.Ia32Set;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.table.InstructionSet;
import java.util.List;

/** IA-32 by the name {@code ia32_defined}: its lane may say anything of undefined rows. */
public final class Ia32DefinedSet implements SetProvider {

  private final SetProvider ia32 = new Ia32Set();

  /** Makes the provider. */
  public Ia32DefinedSet() {}

  @Override
  public String name() {
    return "ia32_defined";
  }

  @Override
  public InstructionSet instructionSet() {
    return ia32.instructionSet();
  }

  @Override
  public String title() {
    return ia32.title();
  }

  @Override
  public int modes() {
    return ia32.modes();
  }

  @Override
  public List<Integer> machines() {
    return ia32.machines();
  }

  @Override
  public Predecoder lane() {
    return Predecoder.builder(instructionSet()).undefinedRows(UndefinedRows.ANYTHING).build();
  }

  @Override
  public List<Predecoder> lanes(UndefinedRows undefined) {
    return ia32.lanes(undefined);
  }
}
