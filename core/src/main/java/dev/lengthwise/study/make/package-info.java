/**
 * What a row of a study is made of, as a digest, so that a row of another make is told apart.
 *
 * <p>Called by streams and by sweeps. Start at {@link dev.lengthwise.study.make.ContentDigest}.
 */
package dev.lengthwise.study.make;
