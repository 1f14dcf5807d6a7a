#pragma once
/// Marks the innermost loops: compiled once more for processors with AVX2, which take four cells at once, and chosen
/// when the program is loaded. The same operations in the same order give the same bits: AVX2 does not bring the fused
/// multiply-add, and the build forbids contraction. The sanitizers start too late for such a choice.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__) && \
    !defined(__SANITIZE_THREAD__)
#define PATCHWRIGHT_WIDE [[gnu::target_clones("avx2", "default"), gnu::flatten]]
#else
#define PATCHWRIGHT_WIDE
#endif
