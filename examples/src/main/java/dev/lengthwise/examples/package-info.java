/**
 * Runnable build scripts.
 *
 * <p>Each example is one command of {@link dev.lengthwise.examples.Examples}: it writes under
 * {@code examples/target/NAME/}, prints a table that a person reads, has {@code --help}, and ends
 * with status 0, 1 if a check failed, or 2 if it was called wrongly.
 */
package dev.lengthwise.examples;
