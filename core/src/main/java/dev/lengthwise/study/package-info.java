/**
 * What a design is worth on real code: fetch throughput, sweeps over variants, the Pareto front,
 * and the search for the best variant.
 */
package dev.lengthwise.study;
