package dev.lengthwise.lane.encode;

import dev.lengthwise.logic.exact.EncodingSynthesis;
import dev.lengthwise.logic.sat.Sat;
import java.util.Arrays;
import java.util.List;

/**
 * Ties a front block's free codes to the final code of the lane.
 *
 * <p>The block's outputs are role bits and length bits. A role is: the map's own specifier follows,
 * one of the escapes, or one of the rest, which carry select bits of a constant each. Blocks are
 * solved one after the other; what one fixes (the length bits of each family, the meaning of final
 * codes, the constants) binds the next.
 */
final class EncodingConstraints implements EncodingSynthesis.Link {

  private final LengthEncoding codes;
  private final int lengthBits;
  private final int[] familyCode;
  private final int[][][] meaning;
  private final boolean[] solved;

  private int map;
  private int roleBits;
  private int firstPlainRole;
  private int[][] familyVariables;
  private int[][][] lengthVariables;
  private int[][] constantVariables;
  private int[][] constants;

  EncodingConstraints(LengthEncoding codes, int lengthBits) {
    this.codes = codes;
    this.lengthBits = lengthBits;
    this.familyCode = new int[codes.families().size()];
    Arrays.fill(familyCode, -1);
    int words = codes.shape().modeWords();
    this.solved = new boolean[codes.shape().codedMaps().size()];
    this.meaning = new int[words][1 << codes.selectBits()][1 << lengthBits];
    for (int[][] bySelect : meaning) {
      for (int[] byLength : bySelect) {
        Arrays.fill(byLength, -1);
      }
    }
  }

  EncodingConstraints copy() {
    EncodingConstraints result = new EncodingConstraints(codes, lengthBits);
    System.arraycopy(familyCode, 0, result.familyCode, 0, familyCode.length);
    for (int w = 0; w < meaning.length; w++) {
      for (int s = 0; s < meaning[w].length; s++) {
        result.meaning[w][s] = meaning[w][s].clone();
      }
    }
    System.arraycopy(solved, 0, result.solved, 0, solved.length);
    return result;
  }

  /** Prepares for a map's block. */
  void select(int newMap, int newRoleBits, int newFirstPlainRole) {
    map = newMap;
    roleBits = newRoleBits;
    firstPlainRole = newFirstPlainRole;
  }

  /** Tells whether final codes for all maps exist, whatever the blocks cost. */
  boolean isCodable(int conflicts) {
    Sat sat = Sat.create();
    map = -1;
    addFamilies(sat);
    addLengths(sat);
    addOtherMaps(sat);
    return sat.solve(conflicts) == Sat.Verdict.SATISFIABLE;
  }

  /**
   * Numbers families and lengths instead of searching for codes: a plain length has one select code
   * that no specifier has, and its own number.
   *
   * @param plainSelect that select code
   */
  void number(int plainSelect) {
    Arrays.fill(solved, true);
    for (int f = 0; f < familyCode.length; f++) {
      familyCode[f] = f;
    }
    meanFamilies();
    for (int v = 0; v < codes.lengths().size(); v++) {
      claim(familyCode.length + v, plainSelect, v);
    }
  }

  /** Returns the length that each final code means, by late mode word, select and length bits. */
  int[][][] meaning() {
    return meaning;
  }

  int familyCode(int family) {
    return familyCode[family];
  }

  /** Returns the select bits of each plain role of the last block solved. */
  int[] constants() {
    int[] result = new int[constants.length];
    for (int g = 0; g < result.length; g++) {
      for (int b = 0; b < constants[g].length; b++) {
        result[g] |= constants[g][b] << b;
      }
    }
    return result;
  }

  @Override
  public void addTo(Sat sat, int[][] hasCode) {
    addFamilies(sat);
    addLengths(sat);
    int plainRoles = (1 << roleBits) - firstPlainRole;
    constantVariables = new int[plainRoles][codes.selectBits()];
    for (int[] bits : constantVariables) {
      Arrays.setAll(bits, b -> sat.newVariable());
    }
    int families = familyVariables.length;
    for (int f = 0; f < families; f++) {
      for (int code = 0; code < hasCode[f].length; code++) {
        int role = code & (1 << roleBits) - 1;
        if (role == 0 && firstPlainRole > 0) {
          sat.addClause(-hasCode[f][code], familyVariables[f][code >> roleBits]);
        } else {
          sat.addClause(-hasCode[f][code]);
        }
      }
    }
    for (int v = 0; v < lengthVariables.length; v++) {
      for (int code = 0; code < hasCode[families + v].length; code++) {
        int role = (code & (1 << roleBits) - 1) - firstPlainRole;
        int has = hasCode[families + v][code];
        if (role < 0) {
          sat.addClause(-has);
        } else {
          tie(sat, has, role, lengthVariables[v], code >> roleBits);
        }
      }
    }
    addOtherMaps(sat);
  }

  /** A plain code with length bits l stands for a length if the role's constant with l does. */
  private void tie(Sat sat, int has, int role, int[][] allowed, int length) {
    int bits = codes.selectBits();
    for (int select = 0; select < 1 << bits; select++) {
      int[] clause = new int[bits + 2];
      for (int b = 0; b < bits; b++) {
        int variable = constantVariables[role][b];
        clause[b] = (select >> b & 1) != 0 ? -variable : variable;
      }
      clause[bits] = -has;
      clause[bits + 1] = allowed[select][length];
      sat.addClause(clause);
    }
  }

  private void addFamilies(Sat sat) {
    int lengths = 1 << lengthBits;
    familyVariables = new int[familyCode.length][lengths];
    for (int f = 0; f < familyCode.length; f++) {
      for (int l = 0; l < lengths; l++) {
        familyVariables[f][l] = sat.newVariable();
        if (familyCode[f] >= 0) {
          sat.addClause(l == familyCode[f] ? familyVariables[f][l] : -familyVariables[f][l]);
        }
        for (int other = 0; other < l; other++) {
          sat.addClause(-familyVariables[f][l], -familyVariables[f][other]);
        }
        for (int other = 0; other < f; other++) {
          sat.addClause(-familyVariables[f][l], -familyVariables[other][l]);
        }
      }
      sat.addClause(familyVariables[f].clone());
    }
  }

  private void addLengths(Sat sat) {
    List<int[]> all = codes.lengths();
    int selects = 1 << codes.selectBits();
    int lengths = 1 << lengthBits;
    lengthVariables = new int[all.size()][selects][lengths];
    for (int v = 0; v < all.size(); v++) {
      for (int s = 0; s < selects; s++) {
        for (int l = 0; l < lengths; l++) {
          int variable = sat.newVariable();
          lengthVariables[v][s][l] = variable;
          if (!fitsMeaning(all.get(v), s, l)) {
            sat.addClause(-variable);
          }
          for (int f = 0; f < familyCode.length; f++) {
            if (!fitsFamily(all.get(v), f, s)) {
              sat.addClause(-variable, -familyVariables[f][l]);
            }
          }
          for (int other = 0; other < v; other++) {
            if (LengthEncoding.differ(all.get(v), all.get(other))) {
              sat.addClause(-variable, -lengthVariables[other][s][l]);
            }
          }
        }
      }
    }
  }

  private boolean fitsMeaning(int[] length, int select, int l) {
    for (int word = 0; word < length.length; word++) {
      int known = meaning[word][select][l];
      if (length[word] >= 0 && known >= 0 && known != length[word]) {
        return false;
      }
    }
    return true;
  }

  private boolean fitsFamily(int[] length, int family, int select) {
    for (int word = 0; word < length.length; word++) {
      int own = codes.familyLength(family, word, select);
      if (length[word] >= 0 && own >= 0 && own != length[word]) {
        return false;
      }
    }
    return true;
  }

  /**
   * Keeps the maps solved later codable: there are select constants for their plain roles such that
   * each of their lengths has a code with one of them.
   */
  private void addOtherMaps(Sat sat) {
    for (int other = 0; other < solved.length; other++) {
      int roles = (1 << codes.roleBits(other)) - codes.firstPlainRole(other);
      if (solved[other] || other == map || roles == 0) {
        continue;
      }
      int[][] chosen = new int[roles][1 << codes.selectBits()];
      for (int[] constant : chosen) {
        Arrays.setAll(constant, s -> sat.newVariable());
        sat.addClause(constant.clone());
      }
      int count = codes.map(other).classes().size();
      for (int c = 0; c < count; c++) {
        if (codes.kind(other, c) >= familyCode.length) {
          addCodable(sat, chosen, lengthVariables[codes.kind(other, c) - familyCode.length]);
        }
      }
    }
  }

  private static void addCodable(Sat sat, int[][] chosen, int[][] allowed) {
    int[] by = new int[chosen.length];
    for (int g = 0; g < by.length; g++) {
      by[g] = sat.newVariable();
      for (int s = 0; s < allowed.length; s++) {
        int[] clause = Arrays.copyOf(allowed[s], allowed[s].length + 2);
        clause[allowed[s].length] = -by[g];
        clause[allowed[s].length + 1] = -chosen[g][s];
        sat.addClause(clause);
      }
    }
    sat.addClause(by);
  }

  @Override
  public void read(Sat sat) {
    solved[map] = true;
    for (int f = 0; f < familyCode.length; f++) {
      for (int l = 0; l < 1 << lengthBits; l++) {
        if (sat.value(familyVariables[f][l])) {
          familyCode[f] = l;
        }
      }
    }
    constants = new int[constantVariables.length][];
    for (int g = 0; g < constants.length; g++) {
      constants[g] = Arrays.stream(constantVariables[g]).map(v -> sat.value(v) ? 1 : 0).toArray();
    }
    meanFamilies();
  }

  private void meanFamilies() {
    for (int word = 0; word < meaning.length; word++) {
      for (int s = 0; s < meaning[word].length; s++) {
        for (int f = 0; f < familyCode.length; f++) {
          int length = codes.familyLength(f, word, s);
          if (length >= 0) {
            meaning[word][s][familyCode[f]] = length;
          }
        }
      }
    }
  }

  /** Records that a code is used for a length, so that later blocks keep to it. */
  void claim(int kind, int select, int l) {
    int[] length = codes.lengths().get(kind - familyCode.length);
    for (int word = 0; word < length.length; word++) {
      if (length[word] >= 0) {
        meaning[word][select][l] = length[word];
      }
    }
  }
}
