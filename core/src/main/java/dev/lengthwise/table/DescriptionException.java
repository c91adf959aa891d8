package dev.lengthwise.table;

import java.util.List;

/**
 * Thrown when a description contradicts itself; {@link #faults()} has every fault that was found,
 * the message the first {@value #MOST_SHOWN} and the number of the others.
 */
public final class DescriptionException extends IllegalStateException {

  /** The most faults that the message lists. */
  public static final int MOST_SHOWN = 20;

  private static final long serialVersionUID = 2;

  /** The faults in input order. */
  private final String[] faults;

  /**
   * Creates the exception.
   *
   * @param faults the faults in input order, each {@code <subject>: <rule>, found <value>}
   */
  public DescriptionException(List<String> faults) {
    super(message(faults));
    this.faults = faults.toArray(String[]::new);
  }

  private static String message(List<String> faults) {
    String shown = String.join("\n", faults.subList(0, Math.min(MOST_SHOWN, faults.size())));
    return faults.size() <= MOST_SHOWN
        ? shown
        : shown + "\nand " + (faults.size() - MOST_SHOWN) + " more";
  }

  /**
   * Returns the faults in input order.
   *
   * @return at least one
   */
  public List<String> faults() {
    return List.of(faults);
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
