/**
 * The search for the lane that handles most within a budget.
 *
 * <p>Start at {@link dev.lengthwise.study.advice.Advisor}, which returns an {@link
 * dev.lengthwise.study.advice.Advice}; {@link dev.lengthwise.study.advice.LeftOutPrice} says what
 * leaving a row out costs.
 */
package dev.lengthwise.study.advice;
