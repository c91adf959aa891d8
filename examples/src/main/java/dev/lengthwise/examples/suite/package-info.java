/**
 * Sixty functions of named families, made by code, by which our mapping is compared with a general
 * tool and with itself from version to version.
 *
 * <p>Start at {@link dev.lengthwise.examples.suite.Suite}. The functions were chosen before any of
 * them was mapped, and none was put in or left out by how well it maps. Each says its source; what
 * manuals and standards say is from memory where a class does not say otherwise.
 */
package dev.lengthwise.examples.suite;
