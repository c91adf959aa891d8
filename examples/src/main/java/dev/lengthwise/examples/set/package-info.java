/**
 * The instruction sets of the examples: Tidegate's, the lane that mappers are compared by, and
 * IA-32 with its undefined rows free. Examples take them by name, as providers; their lanes and the
 * row of those, {@code FetchRow}, serve measurements too. Start at {@code Tidegate}.
 */
package dev.lengthwise.examples.set;
