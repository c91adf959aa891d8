/**
 * Networks of LUTs: made by mappers, read by realisation, proof and simulation.
 *
 * <p>Start at {@link dev.lengthwise.logic.network.LutNetwork}, immutable, LUTs in topological
 * order; {@link dev.lengthwise.logic.network.Packing} pairs functions for dual-output sites. {@link
 * dev.lengthwise.logic.network.DelayModel} says what depth is counted by, levels or more.
 */
package dev.lengthwise.logic.network;
