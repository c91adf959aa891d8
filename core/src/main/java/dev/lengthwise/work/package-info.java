/**
 * How work is spread over threads, and how it ends before its time.
 *
 * <p>Whoever interrupts the thread that asked for a search, a proof, a study or a run of a tool
 * ends it: the call throws {@link dev.lengthwise.cancel.CancelledException}, the thread's interrupt
 * flag stays set, and no thread that worked for it goes on. Work of more than some tens of
 * milliseconds calls {@link dev.lengthwise.work.Work#check()} in its innermost loop that takes over
 * some microseconds.
 */
package dev.lengthwise.work;
