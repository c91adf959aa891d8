/**
 * What the emitters of all languages share: which node becomes a signal and under which name, safe
 * comments, and the text sink.
 *
 * <p>Exported to the emitters only.
 */
package dev.lengthwise.circuit.text;
