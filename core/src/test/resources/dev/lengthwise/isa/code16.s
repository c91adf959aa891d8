# 16-bit code for a comparison of instruction boundaries: every addressing form of both address
# sizes with several kinds of instruction, immediates of each size, far transfers, and the two- and
# three-byte maps with their VEX-coded forms.
        .code16
        .text
here:

# Runs a macro with every form of a memory operand.
        .macro  each_memory do
        .irp    m, "(%bx,%si)", "(%bx,%di)", "(%bp,%si)", "(%bp,%di)", "(%si)", "(%di)", "(%bx)"
        \do     "\m"
        \do     "0x12\m"
        \do     "0x1234\m"
        \do     "%fs:-2\m"
        .endr
        .irp    m, "(%bp)", "0x12(%bp)", "0x1234(%bp)", "0x1234", "%es:0x1234"
        \do     "\m"
        .endr
        .irp    b, %eax, %ecx, %edx, %ebx, %esp, %ebp, %esi, %edi
        \do     "(\b)"
        \do     "0x12(\b)"
        \do     "0x12345678(\b)"
        .irp    i, %eax, %ecx, %edx, %ebx, %ebp, %esi, %edi
        \do     "(\b,\i,4)"
        .endr
        \do     "0x12(\b,%esi,2)"
        \do     "0x12345678(\b,%edi,8)"
        .endr
        .irp    i, %eax, %ecx, %edx, %ebx, %ebp, %esi, %edi
        \do     "0x12345678(,\i,8)"
        .endr
        .endm

        .macro  integer m
        addb    %al, \m
        addw    %cx, \m
        addl    %edx, \m
        subb    $0x12, \m
        cmpw    $0x12, \m
        cmpw    $0x1234, \m
        cmpl    $0x12345678, \m
        movb    $0x12, \m
        movw    $0x1234, \m
        movl    $0x12345678, \m
        testb   $0x12, \m
        testw   $0x1234, \m
        testl   $0x12345678, \m
        notb    \m
        negw    \m
        shlw    $3, \m
        shrl    %cl, \m
        imulw   $0x1234, \m, %ax
        imull   $0x12345678, \m, %eax
        imulw   $0x12, \m, %ax
        leaw    \m, %bx
        lesw    \m, %di
        ldsl    \m, %esi
        boundw  %ax, \m
        movw    %ds, \m
        popw    \m
        pushl   \m
        jmpw    *\m
        callw   *\m
        ljmpw   *\m
        lcallw  *\m
        lock xaddw %ax, \m
        lock cmpxchg8b \m
        .endm

        .macro  extended m
        fldl    \m
        fldt    \m
        fnstenv \m
        fistpll \m
        movzbw  \m, %ax
        movswl  \m, %eax
        cmovew  \m, %ax
        sete    \m
        btw     $3, \m
        shldw   $3, %ax, \m
        lgdtw   \m
        fxsave  \m
        movups  \m, %xmm1
        movsd   \m, %xmm1
        cmpps   $1, \m, %xmm1
        pinsrw  $1, \m, %mm1
        pshufb  \m, %xmm1
        crc32w  \m, %eax
        movbew  \m, %ax
        palignr $3, \m, %xmm1
        pextrb  $1, %xmm1, \m
        vmovups \m, %ymm1
        vaddps  \m, %ymm2, %ymm1
        vcmpps  $1, \m, %ymm2, %ymm1
        vpshufb \m, %xmm2, %xmm1
        vfmadd132ps \m, %ymm2, %ymm1
        vinsertf128 $1, \m, %ymm2, %ymm1
        vpermq  $1, \m, %ymm1
        kmovq   \m, %k1
        rorx    $3, \m, %eax
        .endm

        each_memory integer
        each_memory extended

# Register forms, and instructions without a memory operand.
        .irp    op, add, or, adc, sbb, and, sub, xor, cmp
        \op\()b %bl, %ch
        \op\()w %bx, %cx
        \op\()l %ebx, %ecx
        \op\()b $0x12, %al
        \op\()w $0x1234, %ax
        \op\()l $0x12345678, %eax
        \op\()b $0x12, %dl
        \op\()w $0x12, %dx
        \op\()l $0x12, %edx
        \op\()w $0x1234, %dx
        \op\()l $0x12345678, %edx
        .endr
        .irp    r, ax, cx, dx, bx, sp, bp, si, di
        incw    %\r
        decl    %e\r
        pushw   %\r
        popl    %e\r
        movw    $0x1234, %\r
        movl    $0x12345678, %e\r
        xchgw   %ax, %\r
        bswapl  %e\r
        .endr
        .irp    r, %al, %cl, %dl, %bl, %ah, %ch, %dh, %bh
        movb    $0x12, \r
        notb    \r
        testb   $0x12, \r
        .endr
        .irp    op, daa, das, aaa, aas, pushaw, popal, cbtw, cwtl, cwtd, cltd, pushfw, popfl, sahf, lahf
        \op
        .endr
        .irp    op, movsb, movsw, movsl, cmpsb, cmpsw, cmpsl, stosb, stosl, lodsw, scasb, insb, outsw
        \op
        rep \op
        .endr
        .irp    op, hlt, cmc, clc, stc, cli, sti, cld, std, nop, pause, int3, into, iretw, iretl, xlat
        \op
        .endr
        .irp    op, clts, invd, wbinvd, ud2, wrmsr, rdtsc, rdmsr, rdpmc, sysenter, cpuid, rsm, emms
        \op
        .endr
        .irp    s, es, cs, ss, ds, fs, gs
        pushw   %\s
        movw    %\s, %ax
        .endr
        .irp    c, jo, jno, jb, jae, je, jne, jbe, ja, js, jns, jp, jnp, jl, jge, jle, jg
1:      \c      1b
        \c      here
        data32 \c here
        .endr
2:      loop    2b
        loope   2b
        jcxz    2b
        jecxz   2b
        jmp     2b
        jmp     here
        data32 jmp here
        callw   here
        calll   here
        lcallw  $0x1234, $0x5678
        lcalll  $0x1234, $0x56789abc
        ljmpw   $0x1234, $0x5678
        ljmpl   $0x1234, $0x56789abc
        retw
        retl    $4
        retw    $4
        lretw
        lretw   $4
        enterw  $0x1234, $1
        leavew
        int     $0x21
        aam
        aad     $7
        pushw   $0x12
        pushw   $0x1234
        pushl   $0x12345678
        movb    0x1234, %al
        movw    %ax, 0x1234
        addr32 movl 0x12345678, %eax
        testw   $0x1234, %ax
        testl   $0x12345678, %eax
        inb     $0x12, %al
        outw    %ax, %dx
        outl    %eax, $0x12
        movl    %cr0, %eax
        movl    %eax, %cr3
        movl    %dr7, %ebx
        movl    %ebx, %dr6
        fldz
        fsincos
        fwait
        fcomip  %st(3)
        fnstsw  %ax
        fninit
        finit
        fstcw   0x12(%bp)
        fsave   0x12345678(%eax)
        psrlw   $3, %mm1
        psrldq  $3, %xmm2
        pextrw  $1, %mm1, %eax
        pmovmskb %xmm1, %eax
        maskmovq %mm1, %mm2
        popcntl %eax, %ebx
        rdrand  %ax
        lfence
        xgetbv
        vzeroupper
        vmovmskps %ymm1, %eax
        vpsrlw  $3, %xmm1, %xmm2
        vpblendvb %xmm1, %xmm2, %xmm3, %xmm4
        vgatherdps %xmm1, 0x12(%eax,%xmm2,4), %xmm3
        kandw   %k1, %k2, %k3
        kshiftlw $3, %k1, %k2
        blsrl   %eax, %ebx
        andnl   %eax, %ebx, %ecx
        sha1rnds4 $1, %xmm1, %xmm2
        aeskeygenassist $1, %xmm1, %xmm2
        xbegin  2b
        xabort  $1
