/* Decodes byte strings with the library that GNU objdump is made of (Debian packages binutils-dev
 * and gcc).
 *
 * usage: opcodes 16|32 STRINGS RESULTS
 * STRINGS holds strings of 15 bytes. RESULTS gets one byte for each: the length, or 0 if the string
 * is no instruction. */
#define PACKAGE "opcodes"
#include <dis-asm.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { STRING = 15, BATCH = 65536 };

static char text[512];
static size_t used;

static void append(const char *format, va_list arguments)
{
    int count = vsnprintf(text + used, sizeof text - used, format, arguments);
    used += count < 0 ? 0 : (size_t) count;
    used = used < sizeof text ? used : sizeof text - 1;
}

static int plain(void *stream, const char *format, ...)
{
    va_list arguments;
    (void) stream;
    va_start(arguments, format);
    append(format, arguments);
    va_end(arguments);
    return 0;
}

static int styled(void *stream, enum disassembler_style style, const char *format, ...)
{
    va_list arguments;
    (void) stream;
    (void) style;
    va_start(arguments, format);
    append(format, arguments);
    va_end(arguments);
    return 0;
}

static void ignore(int status, bfd_vma address, struct disassemble_info *info)
{
    (void) status;
    (void) address;
    (void) info;
}

int main(int argc, char **argv)
{
    static bfd_byte strings[BATCH][STRING + 1];
    static unsigned char results[BATCH];
    static bfd_byte packed[BATCH][STRING];
    disassemble_info info;
    disassembler_ftype decode;
    FILE *in;
    FILE *out;
    size_t count;

    if (argc != 4) {
        return 2;
    }
    in = fopen(argv[2], "rb");
    out = fopen(argv[3], "wb");
    init_disassemble_info(&info, NULL, plain, styled);
    info.arch = bfd_arch_i386;
    info.mach = strcmp(argv[1], "32") == 0 ? bfd_mach_i386_i386 : bfd_mach_i386_i8086;
    info.memory_error_func = ignore;
    disassemble_init_for_target(&info);
    decode = disassembler(info.arch, false, info.mach, NULL);
    if (!in || !out || !decode) {
        return 2;
    }
    while ((count = fread(packed, STRING, BATCH, in)) > 0) {
        for (size_t i = 0; i < count; i++) {
            int length;
            memcpy(strings[i], packed[i], STRING);
            strings[i][STRING] = 0x90;
            info.buffer = strings[i];
            info.buffer_vma = 0;
            info.buffer_length = STRING + 1;
            used = 0;
            text[0] = 0;
            length = decode(0, &info);
            results[i] = length > 0 && length <= STRING && !strstr(text, "(bad)") ? length : 0;
        }
        if (fwrite(results, 1, count, out) != count) {
            return 2;
        }
    }
    return ferror(in) || fclose(out) ? 2 : 0;
}
