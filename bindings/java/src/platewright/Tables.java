// SPDX-License-Identifier: MIT
package platewright;

import java.util.ArrayList;
import java.util.List;
import jdk.incubator.foreign.MemoryAddress;
import jdk.incubator.foreign.MemorySegment;

/** Schemes, rows and sources that were opened from an image. */
public final class Tables extends Held {
    private final MemoryAddress address;

    private Tables(byte[] image) {
        MemorySegment bytes = Native.bytes(image, scope());
        address = Native.made("plw_tables_open", bytes.address(), (long) image.length, 0);
    }

    /** Opens an image that the table compiler wrote. The bytes are copied. */
    public static Tables open(byte[] image) {
        return new Tables(image);
    }

    MemoryAddress address() {
        return address;
    }

    /** One layout that a maker used over a span of model years. */
    public record Scheme(String key, String title, int firstYear, int lastYear, int rows,
            List<Layout> layouts) {}

    /** One length of the numbers of a scheme. */
    public record Layout(int length, String sample) {}

    /** Which tables these are. Keep the digest where an answer is filed. */
    public record Identity(String edition, String digest) {}

    public Identity identity() {
        return identity(Options.NONE.withTables(this));
    }

    public List<Scheme> schemes() {
        return schemes(Options.NONE.withTables(this));
    }

    /** Of the tables that are compiled into the library. */
    public static Identity builtInIdentity() {
        return identity(Options.NONE);
    }

    public static List<Scheme> builtInSchemes() {
        return schemes(Options.NONE);
    }

    private static Identity identity(Options options) {
        try (Call call = new Call(options)) {
            return new Identity(Native.borrowed("plw_tables_edition", call.tables()),
                    Native.text("plw_tables_digest", call.tables()));
        }
    }

    private static List<Scheme> schemes(Options options) {
        try (Call call = new Call(options)) {
            List<Scheme> schemes = new ArrayList<>();
            int count = Native.number("plw_scheme_count", call.tables());
            for (int i = 0; i < count; i++)
                schemes.add(scheme(call.tables(), i));
            return List.copyOf(schemes);
        }
    }

    private static Scheme scheme(MemoryAddress tables, int index) {
        List<Layout> layouts = new ArrayList<>();
        int count = Native.number("plw_layout_count", tables, index);
        for (int i = 0; i < count; i++)
            layouts.add(new Layout(Native.number("plw_layout_length", tables, index, i),
                    Native.borrowed("plw_layout_sample", tables, index, i)));
        return new Scheme(Native.borrowed("plw_scheme_key", tables, index),
                Native.borrowed("plw_scheme_title", tables, index),
                Native.number("plw_scheme_first_year", tables, index),
                Native.number("plw_scheme_last_year", tables, index),
                Native.number("plw_scheme_row_count", tables, index), List.copyOf(layouts));
    }
}
