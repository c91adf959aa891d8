/**
 * What the examples show on a terminal: tables, progress, and text that cannot control it.
 *
 * <p>Start at {@link dev.lengthwise.examples.terminal.TextTable}; the commands above print it.
 */
package dev.lengthwise.examples.terminal;
