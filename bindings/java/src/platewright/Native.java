// SPDX-License-Identifier: MIT
package platewright;

import java.lang.invoke.MethodHandle;
import java.lang.invoke.MethodType;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import jdk.incubator.foreign.CLinker;
import jdk.incubator.foreign.FunctionDescriptor;
import jdk.incubator.foreign.MemoryAccess;
import jdk.incubator.foreign.MemoryAddress;
import jdk.incubator.foreign.MemoryLayout;
import jdk.incubator.foreign.MemorySegment;
import jdk.incubator.foreign.ResourceScope;

/** The C library: found, checked and called by the names of its functions. */
final class Native {
    /** The oldest library this binding works with, and its major release. */
    private static final int OLDEST = 10000;
    private static final int MAJOR = 1;

    /** Result and parameters: i a number of 32 bits, l one of 64 bits or a size, p a pointer. */
    private static final String FUNCTIONS = """
            plw_version_number i
            plw_version_text p
            plw_status_name pi
            plw_status_text pi
            plw_constant_count i
            plw_constant_name pi
            plw_constant_value li
            plw_constant ipp
            plw_tables_open iplip
            plw_tables_edition pp
            plw_tables_digest ipplp
            plw_scheme_count ip
            plw_scheme_key ppi
            plw_scheme_title ppi
            plw_scheme_first_year ipi
            plw_scheme_last_year ipi
            plw_scheme_row_count ipi
            plw_layout_count ipi
            plw_layout_length ipii
            plw_layout_sample ppii
            plw_names_size lpl
            plw_names_place ipplplp
            plw_names_problem_count ip
            plw_names_problem_line ipi
            plw_names_problem_text ipiplp
            plw_result_size l
            plw_result_place iplp
            plw_result_use_names ipp
            plw_decode ipplpip
            plw_validate ipplpip
            plw_suggest ipplpip
            plw_grade ipplpip
            plw_grade_name pi
            plw_batch ippplpip
            plw_explain ipiiplp
            plw_check_claims ippl
            plw_prefix ipplip
            plw_prefix_state ip
            plw_prefix_scheme_count ip
            plw_prefix_scheme ipi
            plw_prefix_allowed ipplp
            plw_prefix_known ipplp
            plw_prefix_remaining_min ip
            plw_prefix_remaining_max ip
            plw_expectation_size l
            plw_expectation_place iplp
            plw_expectation_use_names ipp
            plw_expect ipplpip
            plw_explain_expectation ipiiplp
            plw_pattern_covers iplplpp
            plw_place_name pi
            plw_date_kind_name pi
            plw_car_size l
            plw_car_place iplp
            plw_car_use_names ipp
            plw_car_add_plate ipipl
            plw_car_add_date ipipl
            plw_compare ipppi
            plw_car_check_claims ippl
            plw_explain_car ipiiplp
            """;

    private static final CLinker LINKER = CLinker.getInstance();
    private static final MethodHandle DLSYM = system("dlsym", "ppp");
    private static final Map<String, MethodHandle> HANDLES = new HashMap<>();

    /** Why the library cannot be used; the exception of every call. */
    private static final LibraryException PROBLEM = open();

    private Native() {}

    // ---- Finding it ----------------------------------------------------------

    private static LibraryException open() {
        String named = System.getenv("PLATEWRIGHT_LIBRARY");
        String name = named == null || named.isEmpty() ? "libplatewright.so.1" : named;
        MemoryAddress library = load(name);
        if (library.equals(MemoryAddress.NULL))
            return new LibraryException("the platewright library cannot be loaded (tried " + name
                    + "); install it, or name its file in PLATEWRIGHT_LIBRARY");
        for (String line : FUNCTIONS.lines().toList()) {
            String function = line.substring(0, line.indexOf(' '));
            MemoryAddress address = symbol(library, function);
            if (address.equals(MemoryAddress.NULL) && HANDLES.isEmpty())
                return new LibraryException("the library found is not platewright: " + name);
            if (address.equals(MemoryAddress.NULL))
                return new LibraryException("the platewright library found has no " + function);
            HANDLES.put(function, handle(address, line.substring(line.indexOf(' ') + 1)));
            if (HANDLES.size() == 1 && !suits(numberOf(HANDLES.get(function))))
                return new LibraryException("this binding needs platewright " + MAJOR
                        + ".x from number " + OLDEST + " on; the library found has number "
                        + numberOf(HANDLES.get(function)));
        }
        return null;
    }

    private static boolean suits(int version) {
        return version / 10000 == MAJOR && version >= OLDEST;
    }

    private static int numberOf(MethodHandle version) {
        return (int) invoke(version);
    }

    /** As the system finds it; it stays loaded. */
    private static MemoryAddress load(String name) {
        try (ResourceScope scope = ResourceScope.newConfinedScope()) {
            int now = 2;
            return (MemoryAddress) invoke(system("dlopen", "ppi"),
                    bytes(utf8(name), scope).address(), now);
        }
    }

    private static MemoryAddress symbol(MemoryAddress library, String name) {
        try (ResourceScope scope = ResourceScope.newConfinedScope()) {
            return (MemoryAddress) invoke(DLSYM, library, bytes(utf8(name), scope).address());
        }
    }

    private static MethodHandle system(String name, String types) {
        return handle(CLinker.systemLookup().lookup(name).orElseThrow(), types);
    }

    private static MethodHandle handle(MemoryAddress address, String types) {
        List<Class<?>> classes = new ArrayList<>();
        List<MemoryLayout> layouts = new ArrayList<>();
        for (char type : types.toCharArray()) {
            classes.add(type == 'i' ? int.class : type == 'l' ? long.class : MemoryAddress.class);
            layouts.add(type == 'i' ? CLinker.C_INT
                    : type == 'l' ? CLinker.C_LONG : CLinker.C_POINTER);
        }
        return LINKER.downcallHandle(address,
                MethodType.methodType(classes.get(0), classes.subList(1, classes.size())),
                FunctionDescriptor.of(layouts.get(0),
                        layouts.subList(1, layouts.size()).toArray(MemoryLayout[]::new)));
    }

    // ---- Calling it ------------------------------------------------------------

    private static Object invoke(MethodHandle handle, Object... arguments) {
        try {
            return handle.invokeWithArguments(arguments);
        } catch (RuntimeException | Error thrown) {
            throw thrown;
        } catch (Throwable thrown) {
            throw new IllegalStateException(thrown);
        }
    }

    private static Object call(String function, Object... arguments) {
        if (PROBLEM != null)
            throw new LibraryException(PROBLEM.getMessage());
        return invoke(HANDLES.get(function), arguments);
    }

    static int number(String function, Object... arguments) {
        return (int) call(function, arguments);
    }

    static long size(String function, Object... arguments) {
        return (long) call(function, arguments);
    }

    /** A text that the library owns. */
    static String borrowed(String function, Object... arguments) {
        return CLinker.toJavaString((MemoryAddress) call(function, arguments));
    }

    /** For functions whose value is a status. */
    static void check(String function, Object... arguments) {
        int status = number(function, arguments);
        if (status != 0)
            throw PlatewrightException.of(status);
    }

    /** The object that a function writes the address of behind these arguments. */
    static MemoryAddress made(String function, Object... arguments) {
        try (ResourceScope scope = ResourceScope.newConfinedScope()) {
            MemorySegment cell = MemorySegment.allocateNative(8, 8, scope);
            check(function, with(arguments, cell.address()));
            return MemoryAccess.getAddress(cell);
        }
    }

    /** The text that a function writes to a buffer behind these arguments. */
    static String text(String function, Object... arguments) {
        long needed = 8192;
        int status;
        do {
            try (ResourceScope scope = ResourceScope.newConfinedScope()) {
                MemorySegment buffer = MemorySegment.allocateNative(needed, 1, scope);
                MemorySegment cell = MemorySegment.allocateNative(8, 8, scope);
                status = number(function,
                        with(arguments, buffer.address(), needed, cell.address()));
                needed = MemoryAccess.getLong(cell);
                if (status == 0)
                    return new String(buffer.asSlice(0, needed - 1).toByteArray(),
                            StandardCharsets.UTF_8);
            }
        } while (status == (int) constant("PLW_E_SHORT"));
        throw PlatewrightException.of(status);
    }

    private static Object[] with(Object[] arguments, Object... more) {
        List<Object> all = new ArrayList<>(List.of(arguments));
        all.addAll(List.of(more));
        return all.toArray();
    }

    // ---- Constants and texts ------------------------------------------------------

    static long constant(String name) {
        try (ResourceScope scope = ResourceScope.newConfinedScope()) {
            MemorySegment value = MemorySegment.allocateNative(8, 8, scope);
            check("plw_constant", bytes(utf8(name), scope).address(), value.address());
            return MemoryAccess.getLong(value);
        }
    }

    /** The name of a number: that of its constant, without the prefix. */
    static String nameOf(String prefix, long number) {
        int count = number("plw_constant_count");
        for (int i = 0; i < count; i++) {
            String name = borrowed("plw_constant_name", i);
            if (name.startsWith(prefix) && (long) call("plw_constant_value", i) == number)
                return name.substring(prefix.length()).toLowerCase(Locale.ROOT).replace('_', '-');
        }
        throw new IllegalStateException("no constant " + prefix + " of value " + number);
    }

    static byte[] utf8(String text) {
        try {
            ByteBuffer bytes = StandardCharsets.UTF_8.newEncoder().encode(CharBuffer.wrap(text));
            byte[] exact = new byte[bytes.remaining()];
            bytes.get(exact);
            return exact;
        } catch (CharacterCodingException broken) {
            throw new IllegalArgumentException("half of a surrogate pair in a text", broken);
        }
    }

    /** The bytes and a zero byte. */
    static MemorySegment bytes(byte[] bytes, ResourceScope scope) {
        MemorySegment memory = MemorySegment.allocateNative(bytes.length + 1L, 8, scope);
        memory.asSlice(0, bytes.length).copyFrom(MemorySegment.ofArray(bytes));
        return memory;
    }
}
