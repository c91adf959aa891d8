package dev.lengthwise.table;

import java.util.List;

/** Thrown when a description contradicts itself; lists every fault that was found. */
public final class DescriptionException extends IllegalStateException {

  private static final long serialVersionUID = 1;

  private final transient List<String> faults;

  /**
   * Creates the exception.
   *
   * @param faults the faults in input order, each {@code <subject>: <rule>, found <value>}
   */
  public DescriptionException(List<String> faults) {
    super(String.join("\n", faults));
    this.faults = List.copyOf(faults);
  }

  /**
   * Returns the faults in input order.
   *
   * @return at least one
   */
  public List<String> faults() {
    return faults == null ? List.of(getMessage().split("\n", -1)) : faults;
  }

  /**
   * Throws the exception if there is a fault.
   *
   * @param faults the faults in input order
   * @throws DescriptionException if the list is not empty
   */
  public static void throwIfAny(List<String> faults) {
    if (!faults.isEmpty()) {
      throw new DescriptionException(faults);
    }
  }
}
