/**
 * Names that are legal, unchanged, in every language that is emitted.
 *
 * <p>A name in a description is the name in the RTL: nothing is renamed on the way, so a designer
 * finds a signal again. This package therefore sits below the others: descriptions check the names
 * they are given with it, and circuits allocate the names they invent with it.
 */
package dev.lengthwise.name;
