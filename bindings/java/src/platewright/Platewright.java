// SPDX-License-Identifier: MIT
package platewright;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import jdk.incubator.foreign.MemoryAccess;
import jdk.incubator.foreign.MemoryAddress;
import jdk.incubator.foreign.MemorySegment;

/**
 * Reads the numbers stamped on collector cars: the installed C library, called through the foreign
 * function API. Nothing of what the library knows is repeated here.
 *
 * <p>All methods may be called from several threads at once; what they give back are immutable
 * records. Every number can be read, however odd: what is strange about it comes back as findings,
 * not as an exception.
 */
public final class Platewright {
    private Platewright() {}

    /** The release of the C library that is running. */
    public static String version() {
        return Native.borrowed("plw_version_text");
    }

    /** A number of the C header, by its name ("PLW_MAX_TEXT"). */
    public static long constant(String name) {
        return Native.constant(name);
    }

    // ---- Numbers -----------------------------------------------------------

    /** Every way to read the number, ranked. */
    public static Result decode(String number, Options options) {
        return read("plw_decode", number, options);
    }

    /** The same, and all findings. */
    public static Result validate(String number, Options options) {
        return read("plw_validate", number, options);
    }

    public static Result validate(String number) {
        return validate(number, Options.NONE);
    }

    /** The same, and where the number does not hold the nearest that would, as guesses. */
    public static Result suggest(String number, Options options) {
        return read("plw_suggest", number, options);
    }

    /**
     * What validate finds, in words.
     *
     * @param format a format of plw_explain(3): "text", "markdown", "json", "svg", "html"
     */
    public static String explain(String number, String format, Options options) {
        int code = formatOf(format);
        try (Call call = new Call(options)) {
            return call.explain("plw_explain", call.result("plw_validate", number), code);
        }
    }

    public static String explain(String number) {
        return explain(number, "text", Options.NONE);
    }

    /** Just the grade: "clear", "note", "doubt" or "fault". Claims and names have no part in it. */
    public static String grade(String number, Options options) {
        try (Call call = new Call(options)) {
            MemorySegment text = call.bytes(number);
            MemorySegment grade = MemorySegment.allocateNative(4, 4, call.scope());
            Native.check("plw_grade", call.tables(), text.address(), text.byteSize() - 1,
                    call.hints(), 0, grade.address());
            return Native.borrowed("plw_grade_name", MemoryAccess.getInt(grade));
        }
    }

    public static String grade(String number) {
        return grade(number, Options.NONE);
    }

    /** The verdict on many numbers by one call of the library. */
    public static List<BatchRow> batch(List<String> numbers, Options options) {
        try (Call call = new Call(options)) {
            int columns = (int) Native.constant("PLW_BATCH_COLUMNS");
            int count = numbers.size();
            MemorySegment text = call.bytes(String.join("", numbers));
            MemorySegment ends = MemorySegment.allocateNative(8L * count + 8, 8, call.scope());
            long end = 0;
            for (int i = 0; i < count; i++) {
                end += Native.utf8(numbers.get(i)).length;
                MemoryAccess.setLongAtIndex(ends, i, end);
            }
            MemorySegment rows = MemorySegment.allocateNative(4L * columns * count + 4, 4,
                    call.scope());
            Native.check("plw_batch", call.tables(), text.address(), ends.address(), (long) count,
                    call.hints(), 0, rows.address());
            List<BatchRow> found = new ArrayList<>(count);
            for (int i = 0; i < count; i++)
                found.add(BatchRow.of(call.tables(), rows.asSlice(4L * columns * i, 4L * columns)));
            return List.copyOf(found);
        }
    }

    /** What the beginning of a number leaves open: for a form, at every key stroke. */
    public static Beginning prefix(String beginning, Options options) {
        try (Call call = new Call(options)) {
            MemorySegment text = call.bytes(beginning);
            MemoryAddress result = call.place("plw_result");
            Native.check("plw_prefix", call.tables(), text.address(), text.byteSize() - 1, 0,
                    result);
            List<String> schemes = new ArrayList<>();
            int count = Native.number("plw_prefix_scheme_count", result);
            for (int i = 0; i < count; i++)
                schemes.add(Native.borrowed("plw_scheme_key", call.tables(),
                        Native.number("plw_prefix_scheme", result, i)));
            int state = Native.number("plw_prefix_state", result);
            return new Beginning(Native.nameOf("PLW_PREFIX_", state), List.copyOf(schemes),
                    Native.text("plw_prefix_allowed", result),
                    Native.text("plw_prefix_known", result),
                    Native.number("plw_prefix_remaining_min", result),
                    Native.number("plw_prefix_remaining_max", result));
        }
    }

    // ---- Cars ---------------------------------------------------------------

    /** Holds the plates and dates of a car, and claims, against each other. */
    public static Comparison compare(Car car, Options options) {
        return Json.read(explainCar(car, "json", options), Comparison.class);
    }

    /** What compare finds, in words. */
    public static String explainCar(Car car, String format, Options options) {
        int code = formatOf(format);
        try (Call call = new Call(options)) {
            return call.explain("plw_explain_car", call.car(car), code);
        }
    }

    // ---- From claims to numbers -------------------------------------------------

    /** The patterns of the numbers that could bear the claims. */
    public static Expectation expect(String claims, Options options) {
        return Json.read(explainExpectation(claims, "json", options), Expectation.class);
    }

    /** What expect finds, in words. */
    public static String explainExpectation(String claims, String format, Options options) {
        int code = formatOf(format);
        try (Call call = new Call(options)) {
            return call.explain("plw_explain_expectation", call.expectation(claims), code);
        }
    }

    /** Whether a pattern covers a number; empty where unreadable characters decide. */
    public static Optional<Boolean> covers(String pattern, String number) {
        try (Call call = new Call(Options.NONE)) {
            MemorySegment first = call.bytes(pattern);
            MemorySegment second = call.bytes(number);
            MemorySegment covered = MemorySegment.allocateNative(4, 4, call.scope());
            Native.check("plw_pattern_covers", first.address(), first.byteSize() - 1,
                    second.address(), second.byteSize() - 1, covered.address(),
                    MemoryAddress.NULL);
            int found = MemoryAccess.getInt(covered);
            return found == Native.constant("PLW_COVERED_OPEN") ? Optional.empty()
                    : Optional.of(found == Native.constant("PLW_COVERED"));
        }
    }

    // ---- What they are made of -----------------------------------------------

    private static Result read(String verb, String number, Options options) {
        try (Call call = new Call(options)) {
            MemoryAddress result = call.result(verb, number);
            return Json.read(call.explain("plw_explain", result, formatOf("json")), Result.class);
        }
    }

    private static int formatOf(String format) {
        try {
            if (format.equals(format.toLowerCase(Locale.ROOT)))
                return (int) Native.constant("PLW_FORMAT_" + format.toUpperCase(Locale.ROOT));
        } catch (PlatewrightException absent) {
            // It is refused below like one in capitals.
        }
        throw PlatewrightException.of((int) Native.constant("PLW_E_FLAGS"));
    }
}
