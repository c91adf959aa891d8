/**
 * Prints circuits as IEEE 1076 text that both the 1993 and the 2008 edition accept.
 *
 * <p>{@link dev.lengthwise.vhdl.Vhdl} gives one file a block, an entity and its architecture {@code
 * rtl}, and a list of the files in compile order. Only {@code std_logic_1164} and {@code
 * numeric_std} of the library {@code ieee} are used; one bit is {@code std_logic}, more are {@code
 * std_logic_vector(high downto 0)}.
 *
 * <p>The LUTs of networks are instances of one small entity that synthesizers keep by an attribute
 * of its architecture; {@link dev.lengthwise.vhdl.VhdlOptions} changes that. A translator that
 * drops attributes has to be told to keep it.
 *
 * <p>Unknown values. A lookup, a choice, a comparison or a read whose index has an unknown bit
 * gives {@code 'X'}, never the word at some known index, and numeric_std is never asked about
 * unknown bits, so that a simulation prints none of its warnings. The guards test with {@code
 * is_x}, which synthesizers replace by false.
 */
package dev.lengthwise.vhdl;
