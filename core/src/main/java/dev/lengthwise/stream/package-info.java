/** Code images: the bytes of real programs, from ELF and raw files. */
package dev.lengthwise.stream;
