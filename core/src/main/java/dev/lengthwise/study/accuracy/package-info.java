/**
 * What share of real code a lane handles, and why not the rest.
 *
 * <p>Start at {@link dev.lengthwise.study.accuracy.Accuracy}; {@link
 * dev.lengthwise.study.accuracy.AccuracyProfile} counts a stream once for all lanes of a sweep.
 */
package dev.lengthwise.study.accuracy;
