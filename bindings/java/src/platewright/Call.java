// SPDX-License-Identifier: MIT
package platewright;

import jdk.incubator.foreign.MemoryAddress;
import jdk.incubator.foreign.MemorySegment;
import jdk.incubator.foreign.ResourceScope;

/** One call by a user: its memory, and the tables and names that stay open until it ends. */
final class Call implements AutoCloseable {
    private final ResourceScope scope = ResourceScope.newConfinedScope();
    private final Options options;
    private final MemoryAddress hints;

    Call(Options options) {
        this.options = options;
        try {
            if (options.tables() != null)
                options.tables().keepOpen(scope);
            if (options.names() != null)
                options.names().keepOpen(scope);
            hints = options.hints() == null ? MemoryAddress.NULL : hints(options.hints());
        } catch (RuntimeException refused) {
            scope.close();
            throw refused;
        }
    }

    private MemoryAddress hints(String text) {
        if (text.indexOf('\0') >= 0)
            throw PlatewrightException.of((int) Native.constant("PLW_E_HINT"));
        return bytes(text).address();
    }

    ResourceScope scope() {
        return scope;
    }

    MemoryAddress tables() {
        return options.tables() == null ? MemoryAddress.NULL : options.tables().address();
    }

    MemoryAddress hints() {
        return hints;
    }

    private MemoryAddress names() {
        return options.names() == null ? MemoryAddress.NULL : options.names().address();
    }

    /** The text in UTF-8 and a zero byte. */
    MemorySegment bytes(String text) {
        return Native.bytes(Native.utf8(text), scope);
    }

    /** An object of the library in memory of this call. */
    MemoryAddress place(String kind) {
        long size = Native.size(kind + "_size");
        MemorySegment memory = MemorySegment.allocateNative(size, 16, scope);
        return Native.made(kind + "_place", memory.address(), size);
    }

    /** A result that the verb has filled, claims checked. */
    MemoryAddress result(String verb, String number) {
        MemorySegment text = bytes(number);
        MemoryAddress result = place("plw_result");
        Native.check("plw_result_use_names", result, names());
        Native.check(verb, tables(), text.address(), text.byteSize() - 1, hints, 0, result);
        checkClaims("plw_check_claims", result);
        return result;
    }

    /** What the claims leave. */
    MemoryAddress expectation(String claims) {
        MemorySegment text = bytes(claims);
        MemoryAddress expectation = place("plw_expectation");
        Native.check("plw_expectation_use_names", expectation, names());
        Native.check("plw_expect", tables(), text.address(), text.byteSize() - 1, hints, 0,
                expectation);
        return expectation;
    }

    /** A car with these plates and dates, compared. */
    MemoryAddress car(Car car) {
        MemoryAddress compared = place("plw_car");
        Native.check("plw_car_use_names", compared, names());
        for (Car.Plate plate : car.plates())
            add("plw_car_add_plate", compared, number("plw_place_name", plate.place()),
                    plate.number());
        for (Car.Date date : car.dates())
            add("plw_car_add_date", compared, number("plw_date_kind_name", date.kind()),
                    date.code());
        Native.check("plw_compare", tables(), compared, hints, 0);
        checkClaims("plw_car_check_claims", compared);
        return compared;
    }

    private void add(String function, MemoryAddress car, int what, String text) {
        MemorySegment bytes = bytes(text);
        Native.check(function, car, what, bytes.address(), bytes.byteSize() - 1);
    }

    /** The number of a name that a function gives to numbers from 1 on; 0 for none. */
    private static int number(String names, String name) {
        for (int number = 1; ; number++) {
            String candidate = Native.borrowed(names, number);
            if (candidate.equals(name) || candidate.isEmpty())
                return candidate.isEmpty() ? 0 : number;
        }
    }

    private void checkClaims(String function, MemoryAddress object) {
        if (options.claims() == null)
            return;
        MemorySegment claims = bytes(options.claims());
        Native.check(function, object, claims.address(), claims.byteSize() - 1);
    }

    String explain(String function, MemoryAddress object, int format) {
        int flags = options.sources() ? (int) Native.constant("PLW_EXPLAIN_SOURCES") : 0;
        return Native.text(function, object, format, flags);
    }

    @Override
    public void close() {
        scope.close();
    }
}
