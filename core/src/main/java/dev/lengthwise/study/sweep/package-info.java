/**
 * Every variant of a space, costed and measured, and the Pareto front.
 *
 * <p>Start at {@link dev.lengthwise.study.sweep.Sweep} with a {@link
 * dev.lengthwise.study.sweep.VariantSpace}; {@link dev.lengthwise.study.sweep.StudyFile} keeps the
 * rows and what they depend on.
 */
package dev.lengthwise.study.sweep;
