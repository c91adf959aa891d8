/**
 * The instruction sets of {@code isa} by name: a class for each, which {@link
 * dev.lengthwise.isa.NamedSet} finds as a service. Start with {@link
 * dev.lengthwise.isa.set.Ia32Set}; the line of another stands in {@code META-INF/services} and in
 * {@code module-info}.
 */
package dev.lengthwise.isa.set;
