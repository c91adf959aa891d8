/**
 * What a caller sees of work that was interrupted before its end.
 *
 * <p>Whoever interrupts the thread that asked for a search, a proof, a study or a run of a tool
 * ends it: the call throws {@link dev.lengthwise.cancel.CancelledException}, the thread's interrupt
 * flag stays set, and no thread that worked for it goes on.
 */
package dev.lengthwise.cancel;
