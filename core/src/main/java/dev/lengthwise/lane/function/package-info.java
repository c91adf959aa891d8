/**
 * What a lane computes, as a composition of multi-valued blocks, whatever it is made of.
 *
 * <p>Start at {@link dev.lengthwise.lane.function.LaneFunction}: maps of 256 outcomes, specifiers,
 * modes; encoders, proofs and the mapper of gates all read it.
 */
package dev.lengthwise.lane.function;
