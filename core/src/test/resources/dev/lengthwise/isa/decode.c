/* Decodes byte strings with the Zydis library (Debian packages libzydis-dev and gcc).
 *
 * usage: decode 16|32 STRINGS RESULTS
 * STRINGS holds strings of 15 bytes. RESULTS gets two bytes for each: the length, or 0 if the
 * string is no instruction; then the low byte of the library's status for such a string, or else 1
 * if the library files the instruction under an extension that the manual does not contain. */
#include <Zydis/Zydis.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { STRING = 15, BATCH = 65536 };

/* The extensions that the manual contains, by the library's names. */
static int in_manual(const ZydisDecodedInstruction *i)
{
    if (i->opcode_map == ZYDIS_OPCODE_MAP_0F && i->opcode == 0x0d) {
        return 1; /* PREFETCHW, PREFETCHWT1: named otherwise in the library */
    }
    switch (i->meta.isa_ext) {
    case ZYDIS_ISA_EXT_ADOX_ADCX: case ZYDIS_ISA_EXT_AES: case ZYDIS_ISA_EXT_AVX:
    case ZYDIS_ISA_EXT_AVX2: case ZYDIS_ISA_EXT_AVX2GATHER: case ZYDIS_ISA_EXT_AVX512EVEX:
    case ZYDIS_ISA_EXT_AVX512VEX: case ZYDIS_ISA_EXT_AVXAES: case ZYDIS_ISA_EXT_AVX_VNNI:
    case ZYDIS_ISA_EXT_BASE: case ZYDIS_ISA_EXT_BMI1: case ZYDIS_ISA_EXT_BMI2:
    case ZYDIS_ISA_EXT_CET: case ZYDIS_ISA_EXT_CLDEMOTE: case ZYDIS_ISA_EXT_CLFLUSHOPT:
    case ZYDIS_ISA_EXT_CLFSH: case ZYDIS_ISA_EXT_CLWB: case ZYDIS_ISA_EXT_ENQCMD:
    case ZYDIS_ISA_EXT_F16C: case ZYDIS_ISA_EXT_FMA: case ZYDIS_ISA_EXT_GFNI:
    case ZYDIS_ISA_EXT_HRESET: case ZYDIS_ISA_EXT_INVPCID: case ZYDIS_ISA_EXT_KEYLOCKER:
    case ZYDIS_ISA_EXT_KEYLOCKER_WIDE: case ZYDIS_ISA_EXT_LONGMODE: case ZYDIS_ISA_EXT_LZCNT:
    case ZYDIS_ISA_EXT_MMX: case ZYDIS_ISA_EXT_MONITOR: case ZYDIS_ISA_EXT_MOVBE:
    case ZYDIS_ISA_EXT_MOVDIR: case ZYDIS_ISA_EXT_MPX: case ZYDIS_ISA_EXT_PAUSE:
    case ZYDIS_ISA_EXT_PCLMULQDQ: case ZYDIS_ISA_EXT_PCONFIG: case ZYDIS_ISA_EXT_PKU:
    case ZYDIS_ISA_EXT_PREFETCHWT1: case ZYDIS_ISA_EXT_PT: case ZYDIS_ISA_EXT_RDPID:
    case ZYDIS_ISA_EXT_RDRAND: case ZYDIS_ISA_EXT_RDSEED: case ZYDIS_ISA_EXT_RDTSCP:
    case ZYDIS_ISA_EXT_RDWRFSGS: case ZYDIS_ISA_EXT_RTM: case ZYDIS_ISA_EXT_SERIALIZE:
    case ZYDIS_ISA_EXT_SGX: case ZYDIS_ISA_EXT_SGX_ENCLV: case ZYDIS_ISA_EXT_SHA:
    case ZYDIS_ISA_EXT_SMAP: case ZYDIS_ISA_EXT_SMX: case ZYDIS_ISA_EXT_SSE:
    case ZYDIS_ISA_EXT_SSE2: case ZYDIS_ISA_EXT_SSE3: case ZYDIS_ISA_EXT_SSE4:
    case ZYDIS_ISA_EXT_SSSE3: case ZYDIS_ISA_EXT_TSX_LDTRK: case ZYDIS_ISA_EXT_VAES:
    case ZYDIS_ISA_EXT_VMFUNC: case ZYDIS_ISA_EXT_VPCLMULQDQ: case ZYDIS_ISA_EXT_VTX:
    case ZYDIS_ISA_EXT_WAITPKG: case ZYDIS_ISA_EXT_X87: case ZYDIS_ISA_EXT_XSAVE:
    case ZYDIS_ISA_EXT_XSAVEC: case ZYDIS_ISA_EXT_XSAVEOPT: case ZYDIS_ISA_EXT_XSAVES:
        return 1;
    default:
        return 0;
    }
}

int main(int argc, char **argv)
{
    static ZyanU8 strings[BATCH][STRING];
    static ZyanU8 results[BATCH][2];
    ZydisDecoder decoder;
    ZydisDecodedInstruction instruction;
    FILE *in;
    FILE *out;
    size_t count;
    int wide;

    if (argc != 4) {
        return 2;
    }
    wide = strcmp(argv[1], "32") == 0;
    in = fopen(argv[2], "rb");
    out = fopen(argv[3], "wb");
    if (!in || !out
        || ZYAN_FAILED(ZydisDecoderInit(&decoder,
            wide ? ZYDIS_MACHINE_MODE_LEGACY_32 : ZYDIS_MACHINE_MODE_LEGACY_16,
            wide ? ZYDIS_STACK_WIDTH_32 : ZYDIS_STACK_WIDTH_16))) {
        return 2;
    }
    while ((count = fread(strings, STRING, BATCH, in)) > 0) {
        for (size_t i = 0; i < count; i++) {
            ZyanStatus status = ZydisDecoderDecodeInstruction(
                &decoder, ZYAN_NULL, strings[i], STRING, &instruction);
            int accepted = ZYAN_SUCCESS(status);
            results[i][0] = accepted ? instruction.length : 0;
            results[i][1] = accepted ? !in_manual(&instruction) : (ZyanU8) status;
        }
        if (fwrite(results, 2, count, out) != count) {
            return 2;
        }
    }
    return ferror(in) || fclose(out) ? 2 : 0;
}
