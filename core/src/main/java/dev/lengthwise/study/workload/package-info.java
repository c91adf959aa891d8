/**
 * Streams of real instructions: swept from code images or counted from traces.
 *
 * <p>Start at {@link dev.lengthwise.study.workload.StudyStream}.
 */
package dev.lengthwise.study.workload;
