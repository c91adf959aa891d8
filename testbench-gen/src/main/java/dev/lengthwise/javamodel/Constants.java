package dev.lengthwise.javamodel;

import com.palantir.javapoet.FieldSpec;
import com.palantir.javapoet.TypeSpec;
import javax.lang.model.element.Modifier;

/** Adds constants of type {@code int} to a class. */
final class Constants {

  private final TypeSpec.Builder type;

  Constants(TypeSpec.Builder type) {
    this.type = type;
  }

  void isPublic(String name, int value, String javadoc) {
    add(Modifier.PUBLIC, name, Integer.toString(value), javadoc);
  }

  void isPublic(String name, String value, String javadoc) {
    add(Modifier.PUBLIC, name, value, javadoc);
  }

  void isPrivate(String name, int value) {
    add(Modifier.PRIVATE, name, Integer.toString(value), "");
  }

  void isPrivate(String name, String value) {
    add(Modifier.PRIVATE, name, value, "");
  }

  private void add(Modifier access, String name, String value, String javadoc) {
    FieldSpec.Builder field =
        FieldSpec.builder(int.class, name, access, Modifier.STATIC, Modifier.FINAL);
    if (!javadoc.isEmpty()) {
      field.addJavadoc("$L\n", javadoc);
    }
    type.addField(field.initializer("$L", value).build());
  }
}
