package dev.lengthwise.logic.twolevel;

import dev.lengthwise.logic.words.OutputWords;
import java.util.ArrayList;
import java.util.List;

/**
 * Cuts superfluous connections from terms to outputs, then literals that were there only for them.
 */
final class CoverTrim {

  private final OutputWords spec;

  CoverTrim(OutputWords spec) {
    this.spec = spec;
  }

  /** Returns as many or fewer terms that still hold what they must. */
  List<Cube> trim(List<Cube> cubes) {
    CoverageCount count = new CoverageCount(spec);
    cubes.forEach(count::add);
    List<Cube> result = new ArrayList<>();
    for (Cube cube : cubes) {
      long kept = count.alone(cube);
      for (long o = cube.outputs() & ~kept; o != 0; o &= o - 1) {
        long output = Long.lowestOneBit(o);
        if ((count.alone(cube) & output) != 0) {
          kept |= output;
        } else {
          count.remove(new Cube(cube.inputs(), cube.fixed(), cube.value(), output));
        }
      }
      if (kept != 0) {
        result.add(widen(new Cube(cube.inputs(), cube.fixed(), cube.value(), kept)));
      }
    }
    return result;
  }

  private Cube widen(Cube cube) {
    int fixed = cube.fixed();
    for (int left = cube.fixed(); left != 0; left &= left - 1) {
      int wider = fixed & ~Integer.lowestOneBit(left);
      if (spec.allowed(wider, cube.value() & wider, cube.outputs()) == cube.outputs()) {
        fixed = wider;
      }
    }
    return new Cube(cube.inputs(), fixed, cube.value() & fixed, cube.outputs());
  }
}
