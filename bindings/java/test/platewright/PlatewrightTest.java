// SPDX-License-Identifier: MIT
package platewright;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

class PlatewrightTest {
    private static final String LINCOLN = "3Y86N400001";
    private static final String WEXCOMBE = "T24K3P100051";

    private static byte[] image() throws IOException {
        return Files.readAllBytes(Path.of(System.getenv("FIXTURE")));
    }

    /** The whole numbers of the published examples. */
    private static List<String> published() throws IOException {
        return Files.readAllLines(Path.of(System.getenv("EXAMPLES"))).stream()
                .filter(line -> !line.isEmpty() && !line.matches("(#|stamp:).*"))
                .map(line -> line.split("\t")[0]).toList();
    }

    private static void refused(String status, Executable call) {
        PlatewrightException thrown = assertThrows(PlatewrightException.class, call);
        assertEquals(status, thrown.status());
        assertTrue(thrown.getMessage().contains(status), thrown.getMessage());
    }

    @Test
    void aNumberIsRead() {
        Result result = Platewright.validate("3Y86-N400001", Options.NONE.withSources());
        assertEquals(LINCOLN, result.number());
        assertEquals("clear", result.grade());
        assertEquals(1, result.readings().size());
        Result.Reading reading = result.readings().get(0);
        assertEquals("dearborn-1960", reading.scheme());
        assertEquals(List.of(1963), reading.years());
        assertEquals("none", reading.check().state());
        assertNull(reading.check().expected());
        assertEquals(Optional.empty(), reading.field("no such field"));
        Result.Field engine = reading.field("engine").orElseThrow();
        assertEquals("N", engine.code());
        assertEquals(List.of(5), engine.positions());
        assertFalse(engine.detail());
        Result.Meaning meaning = engine.meanings().get(0);
        assertEquals("dearborn-1960/engine/N/1963/division=Lincoln", meaning.key());
        assertEquals(List.of(List.of(1963, 1963)), meaning.years());
        assertEquals(430.0, meaning.attributes().get("cid"));
        assertEquals(430.0, meaning.displacementCuIn());
        assertEquals(List.of("mile63lin"), meaning.sources());
        assertNull(reading.fields().get(0).meanings().get(0).displacementCc());
        assertFalse(result.sources().isEmpty());
        assertFalse(result.cautions().isEmpty());
        assertEquals(Tables.builtInIdentity(), result.tables());
        assertEquals(Platewright.version(), result.library());
    }

    @Test
    void findingsAndWhatWouldSettleThem() {
        Result result = Platewright.validate("8R0?C100001");
        Result.Finding unreadable = result.findings().stream()
                .filter(finding -> finding.code().equals("unreadable")).findFirst().orElseThrow();
        assertEquals(List.of(4), unreadable.positions());
        assertNull(unreadable.reading());
        assertFalse(result.settling().get(0).codes().isEmpty());
        Result decoded = Platewright.decode("8R0?C100001", Options.NONE);
        assertTrue(decoded.findings().isEmpty());
        assertEquals(result.readings().size(), decoded.readings().size());
        Result failing = Platewright.validate("1M8GDM9AXKP042789");
        assertEquals(new Result.Check("fails", "1"), failing.readings().get(0).check());
    }

    @Test
    void everyFormOfAnExplanation() {
        Map.of("text", LINCOLN, "json", "{", "svg", "<svg", "html", "<!DOCTYPE html>", "markdown",
                "").forEach((format, begins) -> {
            String words = Platewright.explain(LINCOLN, format, Options.NONE);
            assertTrue(words.startsWith(begins) && words.contains("Lincoln"), words);
        });
        assertTrue(Platewright.explain(LINCOLN).length()
                < Platewright.explain(LINCOLN, "text", Options.NONE.withSources()).length());
    }

    @Test
    void hintsAndClaims() {
        List<Result.Claim> claims = Platewright.validate(LINCOLN, Options.NONE
                .withHints("year=1963").withClaims("engine=430 V8; body=hardtop; colour=blue"))
                .claims();
        assertEquals(List.of("supported", "contradicted", "not-told"),
                claims.stream().map(Result.Claim::verdict).toList());
        assertEquals("published", claims.get(0).standing());
        assertEquals(List.of(3, 4), claims.get(1).positions());
        assertEquals("not-understood", claims.get(2).reason());
        assertNull(claims.get(2).attribute());
    }

    @Test
    void gradeAndBatchAgreeWithValidate() throws IOException {
        List<String> numbers = new ArrayList<>(published());
        assertTrue(numbers.size() > 10);
        numbers.addAll(List.of("", "日本", "A".repeat(257)));
        List<BatchRow> rows = Platewright.batch(numbers, Options.NONE);
        assertEquals(numbers.size(), rows.size());
        assertEquals("PLW_E_TOO_LONG", rows.get(rows.size() - 1).status());
        for (int i = 0; i < rows.size() - 1; i++) {
            Result result = Platewright.validate(numbers.get(i));
            BatchRow row = rows.get(i);
            assertEquals("PLW_OK", row.status());
            assertEquals(result.grade(), row.grade());
            assertEquals(result.grade(), Platewright.grade(numbers.get(i)));
            assertEquals(result.readings().size(), row.readings());
            assertEquals(result.findings().size(), row.findings());
            assertEquals(result.findings().isEmpty() ? null : result.findings().get(0).code(),
                    row.finding());
            assertEquals(row.readings() == 0 ? null : result.readings().get(0).scheme(),
                    row.scheme());
        }
        assertEquals(List.of(), Platewright.batch(List.of(), Options.NONE));
    }

    @Test
    void suggestions() {
        Result.Suggestion nearest =
                Platewright.suggest("5F08N100001", Options.NONE).suggestions().get(0);
        assertEquals(Platewright.grade(nearest.number()), nearest.grade());
        assertEquals(5, nearest.changes().get(0).position());
        assertEquals("N", nearest.changes().get(0).typed());
    }

    @Test
    void theBeginningOfANumber() throws IOException {
        Beginning open = Platewright.prefix("3Y", Options.NONE);
        assertEquals("open", open.state());
        assertTrue(open.schemes().contains("dearborn-1960"));
        assertTrue(open.allowed().contains("8"));
        assertTrue(open.remainingMin() <= open.remainingMax());
        try (Tables tables = Tables.open(image())) {
            assertEquals(List.of("port-ellery-1962", "port-ellery-1976"),
                    Platewright.prefix("", Options.NONE.withTables(tables)).schemes());
        }
    }

    @Test
    void platesAndDatesOfACar() {
        Car car = new Car(List.of(new Car.Plate("dash", LINCOLN),
                new Car.Plate("door_label", "3Y86N400002")),
                List.of(new Car.Date("casting", "no date")));
        Comparison found = Platewright.compare(car, Options.NONE.withClaims("year=1970"));
        assertEquals("differs", found.verdict());
        assertEquals("door_label", found.plates().get(1).place());
        assertEquals(List.of(new Comparison.Differs(1, List.of(11))),
                found.plates().get(0).differsFrom());
        assertEquals(List.of(0), found.differences().get(0).plates());
        assertEquals("3Y86N40000[12]", found.joined().get(0).number());
        assertEquals(List.of(1963), found.reading().years());
        assertEquals("open", found.dates().get(0).verdict());
        assertEquals("open", found.dateVerdict());
        assertEquals("contradicted", found.claims().get(0).verdict());
        assertTrue(found.built().first().compareTo("1963") < 0);
        assertTrue(Platewright.explainCar(car, "text", Options.NONE).contains(LINCOLN));
        assertNull(Platewright.compare(Car.of(), Options.NONE).reading());
    }

    @Test
    void fromClaimsToNumbers() {
        String claims = "year=1963; engine=430 V8; line=Continental";
        Expectation found = Platewright.expect(claims, Options.NONE);
        assertEquals(3, found.claims().size());
        assertTrue(found.claims().get(1).understood());
        Expectation.Pattern pattern = found.patterns().stream()
                .filter(candidate -> Platewright.covers(candidate.pattern(), LINCOLN)
                        .equals(Optional.of(true))).findFirst().orElseThrow();
        assertEquals("dearborn-1960", pattern.scheme());
        assertTrue(pattern.years().contains(1963));
        assertTrue(Platewright.explainExpectation(claims, "text", Options.NONE)
                .contains(pattern.pattern()));
        Expectation none = Platewright.expect("year=1963; year=1964", Options.NONE);
        assertTrue(none.patterns().isEmpty());
        assertTrue(none.claims().stream().anyMatch(Expectation.Claim::rulesOut));
        assertEquals(Optional.of(false), Platewright.covers("3Y86A4?????", LINCOLN));
        assertEquals(Optional.empty(), Platewright.covers(LINCOLN, "3Y86?400001"));
    }

    @Test
    void tablesAndNames() throws IOException {
        Tables tables = Tables.open(image());
        List<Tables.Scheme> schemes = tables.schemes();
        assertEquals(List.of("port-ellery-1962", "port-ellery-1976"),
                schemes.stream().map(Tables.Scheme::key).toList());
        Tables.Layout layout = schemes.get(0).layouts().get(0);
        assertEquals(layout.length(), layout.sample().length());
        assertTrue(Tables.builtInSchemes().size() > 2);
        assertEquals(16, tables.identity().digest().length());
        assertNotEquals(Tables.builtInIdentity().digest(), tables.identity().digest());

        Names names = new Names(
                "field/engine = Maschine\nscheme/port-ellery-1962 = Grüße\nnonsense\n", tables);
        assertEquals(List.of(3), names.problems().stream().map(Names.Problem::line).toList());
        Options options = Options.NONE.withTables(tables).withNames(names);
        Result.Reading reading = Platewright.validate(WEXCOMBE, options).readings().get(0);
        assertEquals("Grüße", reading.title());
        assertEquals("Maschine", reading.field("engine").orElseThrow().label());

        tables.close();
        tables.close();
        assertThrows(IllegalStateException.class, () -> Platewright.validate(WEXCOMBE, options));
        assertThrows(IllegalStateException.class, tables::schemes);
        Options stale = Options.NONE.withNames(names);
        assertThrows(IllegalStateException.class, () -> Platewright.validate(WEXCOMBE, stale));
        names.close();
        assertThrows(IllegalStateException.class, () -> Platewright.validate(WEXCOMBE, stale));
    }

    @Test
    void whatTheLibraryRefuses() throws IOException {
        byte[] image = image();
        String tooLong = "A".repeat(257);
        refused("PLW_E_TOO_LONG", () -> Platewright.validate(tooLong));
        refused("PLW_E_TOO_LONG", () -> Platewright.grade(tooLong));
        refused("PLW_E_TOO_LONG", () -> Platewright.prefix(tooLong, Options.NONE));
        for (String hints : List.of("colour=blue", "year=1963\0")) {
            Options options = Options.NONE.withHints(hints);
            refused("PLW_E_HINT", () -> Platewright.decode("A", options));
            refused("PLW_E_HINT", () -> Platewright.batch(List.of("A"), options));
        }
        refused("PLW_E_CLAIM",
                () -> Platewright.decode("A", Options.NONE.withClaims("blue")));
        refused("PLW_E_CLAIM", () -> Platewright.expect("blue", Options.NONE));
        for (String format : List.of("poem", "TEXT", "", "te\0xt"))
            refused("PLW_E_FLAGS", () -> Platewright.explain("A", format, Options.NONE));
        refused("PLW_E_ARGUMENT",
                () -> Platewright.compare(Car.of(new Car.Plate("roof", "A")), Options.NONE));
        refused("PLW_E_TOO_LONG",
                () -> Platewright.compare(Car.of(new Car.Plate("dash", tooLong)), Options.NONE));
        refused("PLW_E_IMAGE", () -> Tables.open(java.util.Arrays.copyOf(image, 100)));
        refused("PLW_E_IMAGE", () -> Tables.open(new byte[0]));
        refused("PLW_E_TOO_LONG", () -> new Names("#".repeat(4194305), null));
        refused("PLW_E_ABSENT", () -> Platewright.constant("PLW_NO_SUCH_NAME"));
        assertThrows(NullPointerException.class, () -> Platewright.validate(null));
        assertThrows(IllegalArgumentException.class, () -> Platewright.validate("\ud800"));
        assertEquals("clear", Platewright.grade(LINCOLN));
    }

    @Test
    void anyCharactersAreANumber() {
        assertEquals(LINCOLN, Platewright.validate("３Ｙ８６Ｎ４００００１").number());
        for (String number : List.of("", "日本", "3Y86N\000400001", "\ud83d\ude97"))
            assertNotEquals("clear", Platewright.grade(number));
    }

    @Test
    void threadsShareTables() throws Exception {
        List<String> numbers = new ArrayList<>(published());
        numbers.add(WEXCOMBE);
        ExecutorService threads = Executors.newFixedThreadPool(4);
        try (Tables tables = Tables.open(image());
                Names names = new Names("field/engine = Maschine", tables)) {
            Options options = Options.NONE.withTables(tables).withNames(names);
            List<String> expected =
                    numbers.stream().map(n -> Platewright.explain(n, "json", options)).toList();
            Callable<List<String>> work =
                    () -> numbers.stream().map(n -> Platewright.explain(n, "json", options)).toList();
            for (Future<List<String>> found : threads.invokeAll(List.of(work, work, work, work)))
                assertEquals(expected, found.get());
        } finally {
            threads.shutdown();
        }
    }

    // ---- Libraries that are none: in a Java of their own ----------------------------------

    public static void main(String[] arguments) {
        try {
            System.out.println(Platewright.grade(LINCOLN));
            System.out.println(Platewright.validate(LINCOLN).grade());
        } catch (PlatewrightException | OutOfMemoryError thrown) {
            System.out.println(thrown);
        }
    }

    private static String with(String variable, String library) throws IOException {
        ProcessBuilder builder = new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "--add-modules", "jdk.incubator.foreign", "--enable-native-access=ALL-UNNAMED",
                "-cp", System.getProperty("java.class.path"), PlatewrightTest.class.getName());
        builder.environment().put(variable, library);
        builder.redirectError(ProcessBuilder.Redirect.DISCARD);
        return new String(builder.start().getInputStream().readAllBytes());
    }

    @Test
    void otherLibraries() throws IOException {
        assertEquals("clear\nclear\n", with("NOTHING", ""));
        String missing = with("PLATEWRIGHT_LIBRARY", "/no/such/library");
        assertTrue(missing.contains("LibraryException") && missing.contains("/no/such/library"),
                missing);
        assertTrue(with("PLATEWRIGHT_LIBRARY", "libc.so.6").contains("not platewright"));
        String other = with("PLATEWRIGHT_LIBRARY", System.getenv("OTHER_RELEASE"));
        assertTrue(other.contains("LibraryException") && other.contains("20000"), other);
        String poor = with("PLATEWRIGHT_LIBRARY", System.getenv("NO_MEMORY"));
        assertTrue(poor.contains("OutOfMemoryError") && poor.contains("PLW_E_MEMORY"), poor);
    }
}
