package dev.lengthwise.isa;

/**
 * Instructions beyond the maps that {@link Ia32} describes by itself, to be switched on with {@link
 * Ia32#instructionSet}.
 *
 * <p>Each names its published source, by title and number, from memory. "Application programming
 * manual" is the <i>AMD64 Architecture Programmer's Manual</i>, of which volume 3 is number 24594,
 * volume 4 is 26568 and volume 5 is 26569; "future features" is the <i>Intel Architecture
 * Instruction Set Extensions and Future Features Programming Reference</i>, number 319433.
 *
 * <p>What GNU objdump 2.40 decodes of these was compared with it, opcode by opcode; what is newer
 * than that says so.
 */
public enum Ia32Extension {
  /**
   * Everything behind an EVEX prefix: 62 with a byte whose top bits are 11, maps 1, 2, 3, 5 and 6.
   *
   * <p>Source: the manual of {@link Ia32}, volume 2, section 2.7 and chapter 5; maps 5 and 6 are of
   * the <i>Intel AVX512-FP16 Architecture Specification</i>, number 347407. The fields of the
   * prefix, and its fixed bit in the third byte, choose no length and are not looked at.
   */
  EVEX,
  /**
   * VEX-coded cells that are newer than the maps: AVX-IFMA and AVX-NE-CONVERT; and AVX-VNNI-INT16,
   * SHA512, SM3 and SM4, which are newer than objdump 2.40 too and were not compared.
   *
   * <p>Source: future features, the chapters on these.
   */
  VEX_LATER,
  /**
   * AADD, AAND, AOR and AXOR (0F 38 FC).
   *
   * <p>Source: future features, the chapter on RAO-INT.
   */
  RAO_INT,
  /**
   * WRMSRNS (0F 01 C6).
   *
   * <p>Source: future features, the chapter on non-serializing writes.
   */
  WRMSRNS,
  /**
   * TDCALL (66 0F 01 CC). SEAMCALL, SEAMOPS and SEAMRET are for 64-bit code.
   *
   * <p>Source: <i>Intel Trust Domain CPU Architectural Extensions</i>, number 343754.
   */
  TDCALL,
  /**
   * The 3D vector extension: 0F 0F with a ModR/M byte and the opcode as last byte, FEMMS (0F 0E),
   * and PREFETCH with any reg field (0F 0D). A last byte without an instruction has a length too,
   * as it stands too far away to choose one.
   *
   * <p>Source: application programming manual, volume 3, appendix A, the table of opcodes behind 0F
   * 0F; PREFETCH in its chapter 3; FEMMS in volume 5.
   */
  THREE_D,
  /**
   * EXTRQ and INSERTQ with two immediate bytes (66 or F2, 0F 78, a register operand).
   *
   * <p>Without it these bytes have the length of VMREAD, two bytes less: in the manual of {@link
   * Ia32} they are no instruction. With it the table has a third mode, {@value Ia32#FIELD_PREFIX}.
   *
   * <p>Source: application programming manual, volume 4, EXTRQ and INSERTQ. MOVNTSD, MOVNTSS and
   * the forms with registers (0F 2B, 0F 79) have the length of their neighbours, with or without.
   */
  SSE4A,
  /**
   * Everything behind an XOP prefix: 8F with map 8, 9 or 10 in the low bits of the next byte. TBM
   * and LWP are coded so too.
   *
   * <p>Source: application programming manual, volumes 3 and 4 and the tables of XOP opcodes in
   * appendix A of volume 3; LLWPCB, SLWPCB, LWPINS and LWPVAL in the <i>Lightweight Profiling
   * Specification</i>, number 43724.
   */
  XOP,
  /**
   * Multiplication with four operands, and VPERMIL2PD and VPERMIL2PS (VEX, map 0F 3A).
   *
   * <p>Source: application programming manual, volume 4, and the table of VEX opcodes in appendix A
   * of volume 3.
   */
  FMA4,
  /**
   * FFREEP (DF C0 to DF C7).
   *
   * <p>Source: the x86 code optimization guide with number 22007, "Use FFREEP macro to pop one
   * register from the FPU stack".
   */
  FFREEP,
  /**
   * VMRUN, VMMCALL, VMLOAD, VMSAVE, STGI, CLGI, SKINIT and INVLPGA (0F 01 D8 to DF).
   *
   * <p>Source: application programming manual, volume 3, chapter 4 and table A-6 (group 1 of 0F
   * 01).
   */
  SVM,
  /**
   * MONITORX, MWAITX, CLZERO, RDPRU, INVLPGB and TLBSYNC (0F 01 FA to FF).
   *
   * <p>Source: application programming manual, volume 3, chapters 3 and 4.
   */
  MONITORX,
  /**
   * SYSCALL and SYSRET in code that is not 64-bit (0F 05, 0F 07).
   *
   * <p>Source: application programming manual, volume 3, chapters 3 and 4, which have them in
   * legacy mode; the manual of {@link Ia32} has not.
   */
  SYSCALL,
  /**
   * XSTORE, the XCRYPT group, MONTMUL, XSHA1 and XSHA256 (0F A6, 0F A7).
   *
   * <p>Source: the <i>PadLock Programming Guide</i>.
   */
  CIPHER
}
