package dev.lengthwise.study.advice;

import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Style;
import java.util.List;
import java.util.Objects;

/** The lanes that an {@link Advisor} looks among, but for the rows, and what they are made of. */
record SearchSpace(
    Style style,
    List<PrefixTreatment> prefixes,
    List<SpecifierDepth> depths,
    UndefinedRows undefined) {

  SearchSpace {
    Objects.requireNonNull(style, "style");
    prefixes = List.copyOf(prefixes);
    depths = List.copyOf(depths);
    Objects.requireNonNull(undefined, "undefined");
  }
}
