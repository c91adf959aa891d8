/**
 * What a programmable device offers: LUT inputs, dual outputs, RAM shapes and delays.
 *
 * <p>Profiles are generic and name no product. Units: RAM in bits, delays in nanoseconds.
 */
package dev.lengthwise.device;
