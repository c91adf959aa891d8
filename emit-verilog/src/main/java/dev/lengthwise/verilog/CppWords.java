package dev.lengthwise.verilog;

import java.util.Set;

/**
 * Words that are no keywords of Verilog but of C++, or of its libraries, in which Verilator writes
 * its models: it warns of signals that are called so (those of Verilator 5.006).
 */
final class CppWords {

  private static final Set<String> ALL =
      Set.of(
          ("abort alignas alignof and_eq asm atomic_cancel atomic_commit atomic_noexcept auto"
                  + " bitand bitor bool catch cdecl char16_t char32_t compl complex concept const_cast"
                  + " const_iterator constexpr decltype delete deque dynamic_cast explicit far friend"
                  + " huge inline interrupt list mutable namespace near noexcept not_eq nullptr operator"
                  + " or_eq override pascal queue register reinterpret_cast requires sc_clock sc_in sc_inout"
                  + " sc_out sc_signal sensitive sensitive_neg sensitive_pos set sizeof static_assert"
                  + " static_cast synchronized template thread_local transaction_safe"
                  + " transaction_safe_dynamic type_info typeid typename uint16_t uint32_t uint8_t using vector wchar_t"
                  + " xor_eq")
              .split(" ", -1));

  private CppWords() {}

  static boolean contains(String name) {
    return ALL.contains(name);
  }
}
