package dev.lengthwise.javamodel;

import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.circuit.OutputFile;
import java.io.IOException;
import java.lang.invoke.MethodHandle;
import java.lang.invoke.MethodHandles;
import java.lang.invoke.MethodType;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import javax.tools.Diagnostic;
import javax.tools.DiagnosticCollector;
import javax.tools.JavaCompiler;
import javax.tools.JavaFileObject;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;

/** Emitted sources compiled by the JDK's own compiler, all warnings and comment checks on. */
final class CompiledModel {

  private static final MethodType LENGTH_MODEL =
      MethodType.methodType(int.class, int.class, byte[].class, int.class, int.class);

  private static final MethodType LANE_MODEL =
      MethodType.methodType(int.class, int.class, byte[].class, int.class);

  private final ClassLoader classes;
  private final List<OutputFile> files;

  private CompiledModel(ClassLoader classes, List<OutputFile> files) {
    this.classes = classes;
    this.files = files;
  }

  static CompiledModel of(List<OutputFile> files, Path folder) throws IOException {
    List<Path> sources = new ArrayList<>();
    for (OutputFile file : files) {
      Path source = folder.resolve(file.path());
      Files.createDirectories(source.getParent());
      Files.writeString(source, file.text(), StandardCharsets.US_ASCII);
      sources.add(source);
    }
    Path classes = Files.createDirectories(folder.resolve("classes"));
    JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
    DiagnosticCollector<JavaFileObject> found = new DiagnosticCollector<>();
    boolean compiled;
    try (StandardJavaFileManager manager =
        compiler.getStandardFileManager(found, null, StandardCharsets.US_ASCII)) {
      List<String> options =
          List.of(
              "-d", classes.toString(), "--release", "17", "-Xlint:all", "-Xdoclint:all/protected");
      compiled =
          compiler
              .getTask(
                  null, manager, found, options, null, manager.getJavaFileObjectsFromPaths(sources))
              .call();
    }
    List<String> messages = new ArrayList<>();
    for (Diagnostic<? extends JavaFileObject> diagnostic : found.getDiagnostics()) {
      messages.add(diagnostic.toString());
    }
    assertWithMessage("what javac says of %s", sources).that(messages).isEmpty();
    assertWithMessage("compiled").that(compiled).isTrue();
    URL[] path = {classes.toUri().toURL()};
    return new CompiledModel(new URLClassLoader(path, ClassLoader.getPlatformClassLoader()), files);
  }

  /** Returns {@code lengthAt(modes, memory, offset, end)} of the length model. */
  MethodHandle lengthModel() {
    return lengthAt(files.get(0), LENGTH_MODEL);
  }

  /** Returns {@code lengthAt(modes, memory, offset)} of the lane model. */
  MethodHandle laneModel() {
    return lengthAt(files.get(1), LANE_MODEL);
  }

  private MethodHandle lengthAt(OutputFile file, MethodType signature) {
    String name = file.path().replaceAll("^java/|\\.java$", "").replace('/', '.');
    try {
      return MethodHandles.publicLookup()
          .findStatic(classes.loadClass(name), "lengthAt", signature);
    } catch (ReflectiveOperationException e) {
      throw new LinkageError(name, e);
    }
  }
}
