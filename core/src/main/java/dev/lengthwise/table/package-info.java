/**
 * What the user writes: the lengths of an instruction set, as tables.
 *
 * <p>The data model, as a grammar ({@code *} any number, {@code ?} optional):
 *
 * <pre>
 * InstructionSet    = LengthTable PrefixRules longest
 * LengthTable       = name CodeUnit mode* OpcodeMap*            the first map is where decoding starts
 * OpcodeMap         = name RowGroup*                            every code belongs to exactly one group
 * RowGroup          = OpcodeSelector Row                        a value, a range, a bit pattern, or the rest
 * Row               = Undefined | Escape(map, skip) | Instruction | ByNextByte(case*)
 * Instruction       = bytes Row.Growth* OperandSpecifier?           bytes count from the first opcode byte
 * Row.Growth            = ModeCondition bytes                       bytes may be negative
 * ByNextByte.Case   = BitPattern Row                            by the byte after the opcode
 * OperandSpecifier  = name Case*
 * Case              = BitPattern nextBitPattern? ModeCondition bytes
 * PrefixRules       = Prefix* most
 * Prefix            = code Effect*                              flips, sets or clears a mode, or nothing
 * </pre>
 *
 * <p>Lengths are bytes from the first opcode byte, prefixes not counted; that is how manuals print
 * them. An operand specifier is the byte directly after the last opcode unit; a row's bytes already
 * count it, the specifier adds displacement and index bytes. Where code units are words, every
 * length and every skip of an escape is even, as a word stands at an even place; a set whose
 * instructions may start at any byte is written with bytes as code units.
 *
 * <p>Checking policy. A builder method rejects at once what is wrong by itself: null, a value out
 * of range, a malformed pattern, an illegal name. What is wrong only in context is found by {@code
 * build()} or {@code of}, which throws one {@link dev.lengthwise.table.DescriptionException} with
 * every fault in input order. The records' own constructors check the same. What is built is
 * immutable and valid.
 */
package dev.lengthwise.table;
