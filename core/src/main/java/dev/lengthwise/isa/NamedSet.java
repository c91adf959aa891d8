package dev.lengthwise.isa;

import dev.lengthwise.cancel.CancelledException;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.table.InstructionSet;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.ServiceConfigurationError;
import java.util.ServiceLoader;
import java.util.TreeMap;
import java.util.function.Supplier;
import java.util.regex.Pattern;

/**
 * An instruction set that was asked for by its name.
 *
 * <p>What its {@link SetProvider} says is checked where it is asked: a provider that fails, says
 * nothing, or says a lane of another set is named in the message. Immutable if the provider is.
 */
public final class NamedSet {

  private static final String SUBJECT = "instruction sets: ";
  private static final Pattern NAME = Pattern.compile("[a-z][a-z0-9_]{0,63}");

  private final SetProvider provider;
  private final String name;
  private final InstructionSet instructionSet;

  private NamedSet(SetProvider provider, String name) {
    this.provider = provider;
    this.name = name;
    this.instructionSet = asked(provider, "its instruction set", provider::instructionSet);
  }

  /**
   * Finds an instruction set.
   *
   * @param name the name that its provider says
   * @return the set
   * @throws IllegalArgumentException if no provider says the name
   * @throws IllegalStateException if two do, or a provider, of this set or another, cannot be used
   */
  public static NamedSet of(String name) {
    Map<String, SetProvider> providers = providers();
    SetProvider provider = providers.get(name);
    if (provider == null) {
      throw new IllegalArgumentException(
          SUBJECT + "the name must be one of " + providers.keySet() + ", found " + name);
    }
    return new NamedSet(provider, name);
  }

  /**
   * Returns the names of all instruction sets that there are.
   *
   * @return the names, in alphabetical order
   * @throws IllegalStateException as {@link #of}
   */
  public static List<String> names() {
    return List.copyOf(providers().keySet());
  }

  /**
   * Returns the name.
   *
   * @return the name that it was asked for by
   */
  public String name() {
    return name;
  }

  /**
   * Returns the description.
   *
   * @return the instruction set
   */
  public InstructionSet instructionSet() {
    return instructionSet;
  }

  /**
   * Returns the name in sentences.
   *
   * @return what the provider says
   * @throws IllegalStateException if the provider fails
   */
  public String title() {
    return asked(provider, "its title", provider::title);
  }

  /**
   * Returns the modes before each instruction.
   *
   * @return a mode word of the set
   * @throws IllegalStateException if the provider fails, or says a bit of no mode
   */
  public int modes() {
    int modes = asked(provider, "its modes", provider::modes);
    int count = instructionSet.table().modes().size();
    if (modes >>> count != 0) {
      throw broken(provider, "a word of " + count + " modes", "0x" + Integer.toHexString(modes));
    }
    return modes;
  }

  /**
   * Returns the numbers that an ELF file of such code may name as its machine.
   *
   * @return the usual one first; empty if any will do
   * @throws IllegalStateException if the provider fails
   */
  public List<Integer> machines() {
    return asked(provider, "its machines", () -> List.copyOf(provider.machines()));
  }

  /**
   * Returns the lane that examples of one lane build.
   *
   * @return a lane of the set
   * @throws IllegalStateException if the provider fails, or says a lane of another set
   */
  public Predecoder lane() {
    return own(asked(provider, "its lane", provider::lane));
  }

  /**
   * Returns the lanes that a study tries beside each other.
   *
   * @param undefined what they say of undefined opcodes
   * @return lanes of the set, each with a name of its own
   * @throws IllegalStateException if the provider fails, or says a lane of another set, two of one
   *     name, or none
   */
  public List<Predecoder> lanes(UndefinedRows undefined) {
    Objects.requireNonNull(undefined, "undefined rows");
    List<Predecoder> lanes =
        asked(provider, "its lanes", () -> List.copyOf(provider.lanes(undefined)));
    List<String> names = lanes.stream().map(lane -> own(lane).name()).toList();
    if (names.isEmpty() || names.stream().distinct().count() != names.size()) {
      throw broken(provider, "lanes with names of their own", names.toString());
    }
    return lanes;
  }

  /** Returns the name, in which two sets differ. */
  @Override
  public String toString() {
    return name;
  }

  private Predecoder own(Predecoder lane) {
    if (!lane.instructionSet().equals(instructionSet)) {
      throw broken(
          provider, "lanes of its own set", "one of " + lane.instructionSet().table().name());
    }
    return lane;
  }

  /** Returns all providers by name; they are few, and may differ from one call to the next. */
  private static Map<String, SetProvider> providers() {
    Map<String, SetProvider> byName = new TreeMap<>();
    for (SetProvider provider : loaded()) {
      String name = asked(provider, "its name", provider::name);
      if (!NAME.matcher(name).matches()) {
        throw broken(provider, "a name of lower case letters, digits and underscores", name);
      }
      SetProvider other = byName.putIfAbsent(name, provider);
      if (other != null) {
        throw new IllegalStateException(
            SUBJECT
                + "a name must have one provider, found "
                + other.getClass().getName()
                + " and "
                + provider.getClass().getName()
                + " of "
                + name);
      }
    }
    return byName;
  }

  private static List<SetProvider> loaded() {
    List<SetProvider> providers = new ArrayList<>();
    try {
      ServiceLoader.load(SetProvider.class).forEach(providers::add);
    } catch (ServiceConfigurationError e) {
      Throwable cause = e.getCause();
      throw new IllegalStateException(
          SUBJECT
              + "every provider must be made, found "
              + e.getMessage()
              + (cause == null ? "" : ": " + cause),
          e);
    }
    return providers;
  }

  private static <T> T asked(SetProvider provider, String what, Supplier<T> question) {
    T answer;
    try {
      answer = question.get();
    } catch (CancelledException e) {
      throw e;
    } catch (RuntimeException | LinkageError e) {
      IllegalStateException failure = broken(provider, what, e.toString());
      failure.initCause(e);
      throw failure;
    }
    if (answer == null) {
      throw broken(provider, what, "null");
    }
    return answer;
  }

  private static IllegalStateException broken(SetProvider provider, String what, String found) {
    return new IllegalStateException(
        SUBJECT + provider.getClass().getName() + " must say " + what + ", found " + found);
  }
}
