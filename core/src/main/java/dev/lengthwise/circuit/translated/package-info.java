/**
 * What translators between languages make of emitted text, so that runners and tests that go
 * through one mend its output alike. Exported to these only.
 */
package dev.lengthwise.circuit.translated;
