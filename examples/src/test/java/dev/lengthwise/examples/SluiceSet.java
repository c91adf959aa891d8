package dev.lengthwise.examples;

import dev.lengthwise.isa.SetProvider;
import dev.lengthwise.table.InstructionSet;
import java.io.File;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HexFormat;
import java.util.List;

/**
 * The small set of the README as a user's own, for runs whose set does not matter: it is mapped,
 * placed and costed in a moment. Only a class path that names it has it, so that examples list the
 * sets of ours elsewhere.
 */
public final class SluiceSet implements SetProvider {

  /** Of one byte, two, three with a place, two, and four with a prefix. */
  private static final List<String> INSTRUCTIONS =
      List.of("01", "4011", "419105", "6007", "f0600102");

  @Override
  public String name() {
    return "sluice";
  }

  @Override
  public InstructionSet instructionSet() {
    return TidegateTrees.sluice();
  }

  /** Names the set in a folder, and returns a class path with it. */
  static String classPath(Path folder) throws IOException {
    Path services = Files.createDirectories(folder.resolve("META-INF/services"));
    Files.writeString(
        services.resolve(SetProvider.class.getName()), SluiceSet.class.getName() + "\n");
    return System.getProperty("java.class.path") + File.pathSeparator + folder;
  }

  /** Writes the instructions, so many times, as a raw file. */
  static Path raw(Path folder, String name, int times) throws IOException {
    byte[] code = HexFormat.of().parseHex(String.join("", INSTRUCTIONS).repeat(times));
    return Files.write(folder.resolve(name), code);
  }

  /** Writes a trace of the raw file's instructions in their order. */
  static Path trace(Path folder, String name, int times) throws IOException {
    StringBuilder text = new StringBuilder();
    int address = 0;
    for (int i = 0; i < times; i++) {
      for (String bytes : INSTRUCTIONS) {
        int length = bytes.length() / 2;
        text.append(Integer.toHexString(address)).append(' ').append(length).append('\n');
        address += length;
      }
    }
    return Files.writeString(folder.resolve(name), text, StandardCharsets.US_ASCII);
  }

  /** Returns how many instructions a file of so many times has. */
  static int count(int times) {
    return INSTRUCTIONS.size() * times;
  }
}
