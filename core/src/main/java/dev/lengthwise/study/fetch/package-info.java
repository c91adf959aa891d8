/**
 * Instructions a cycle of a front end on a stream.
 *
 * <p>Start at {@link dev.lengthwise.study.fetch.FetchModel} with a {@link
 * dev.lengthwise.study.fetch.FrontEnd}.
 */
package dev.lengthwise.study.fetch;
