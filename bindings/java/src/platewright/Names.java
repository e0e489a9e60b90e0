// SPDX-License-Identifier: MIT
package platewright;

import java.util.ArrayList;
import java.util.List;
import jdk.incubator.foreign.MemoryAddress;
import jdk.incubator.foreign.MemorySegment;
import jdk.incubator.foreign.ResourceScope;

/** A host's own words, in place of those of the tables. */
public final class Names extends Held {
    private final Tables tables;
    private final MemoryAddress address;
    private final List<Problem> problems;

    /** A line of a names text that does not count; lines count from 1. */
    public record Problem(int line, String text) {}

    /** Reads a names text for these tables; null are the compiled-in ones. */
    public Names(String text, Tables tables) {
        this.tables = tables;
        try (Call call = new Call(Options.NONE.withTables(tables))) {
            MemorySegment bytes = call.bytes(text);
            long length = bytes.byteSize() - 1;
            long size = Native.size("plw_names_size", bytes.address(), length);
            if (size == 0)
                throw PlatewrightException.of((int) Native.constant("PLW_E_TOO_LONG"));
            MemorySegment memory = MemorySegment.allocateNative(size, 16, scope());
            address = Native.made("plw_names_place", call.tables(), bytes.address(), length,
                    memory.address(), size);
            problems = List.copyOf(problemsOf(address));
        }
    }

    private static List<Problem> problemsOf(MemoryAddress names) {
        List<Problem> problems = new ArrayList<>();
        int count = Native.number("plw_names_problem_count", names);
        for (int i = 0; i < count; i++)
            problems.add(new Problem(Native.number("plw_names_problem_line", names, i),
                    Native.text("plw_names_problem_text", names, i)));
        return problems;
    }

    /** Problems of lines are no error: the other lines count. */
    public List<Problem> problems() {
        return problems;
    }

    MemoryAddress address() {
        return address;
    }

    @Override
    void keepOpen(ResourceScope user) {
        super.keepOpen(user);
        if (tables != null)
            tables.keepOpen(user);
    }
}
