/**
 * Code images (ELF, raw) and instruction traces.
 *
 * <p>A trace of any length is read instruction by instruction into a {@link
 * dev.lengthwise.stream.TraceSink}; {@link dev.lengthwise.stream.TraceCounts.Counter} keeps of it
 * how often each distinct instruction was executed, so that its cost grows with the code, not with
 * the time that it ran. Files may be plain or gzip. A broken or hostile file ends in an exception
 * that names the file, the place, what is expected and what was found; it never gives a part as if
 * it were the whole.
 */
package dev.lengthwise.stream;
