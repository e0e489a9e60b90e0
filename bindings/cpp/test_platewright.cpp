// SPDX-License-Identifier: MIT
//
// run_tests.sh calls this with the image of the fixture and the published examples
// in the environment. Test cases that are skipped are for functions that it puts in
// the place of the library's.

#define DOCTEST_CONFIG_IMPLEMENT_WITH_MAIN
#include <doctest/doctest.h>

#include "platewright.hpp"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <sstream>
#include <thread>

using namespace std::string_literals;
namespace plw = platewright;

namespace
{

std::string content(const char *variable)
{
    const char *name = std::getenv(variable);
    REQUIRE(name != nullptr);
    std::ifstream file(name, std::ios::binary);
    REQUIRE(file.good());
    return {std::istreambuf_iterator<char>(file), {}};
}

// Whole numbers of the published examples.
std::vector<std::string> published()
{
    std::istringstream lines(content("EXAMPLES"));
    std::vector<std::string> numbers;
    for (std::string line; std::getline(lines, line);)
        if (!line.empty() && line[0] != '#' && line.compare(0, 6, "stamp:") != 0)
            numbers.push_back(line.substr(0, line.find('\t')));
    REQUIRE(numbers.size() > 10);
    return numbers;
}

plw::options with_fixture()
{
    plw::options given;
    given.tables = plw::tables::open(content("FIXTURE"));
    return given;
}

template <class Function>
std::int32_t status_of(Function function)
{
    try {
        function();
    } catch (const plw::error &refused) {
        return refused.status();
    }
    return PLW_OK;
}

} // namespace

TEST_CASE("a number is read")
{
    const auto result = plw::validate("3Y86-N400001");
    CHECK(result.number() == "3Y86N400001");
    CHECK(result.position_count() == 11);
    CHECK(result.position(5).offset == 5);
    CHECK(result.grade() == PLW_GRADE_CLEAR);
    REQUIRE(result.readings().size() == 1);

    const auto reading = result.readings()[0];
    CHECK(reading.scheme().key() == "dearborn-1960");
    CHECK(reading.years() == std::vector<std::int32_t>{1963});
    CHECK(reading.check() == PLW_CHECK_NONE);
    CHECK_FALSE(reading.expected_check());
    CHECK_FALSE(reading.field("no such field"));

    const auto engine = reading.field("engine").value();
    CHECK(engine.code() == "N");
    CHECK(engine.state() == PLW_FIELD_KNOWN);
    CHECK(engine.positions() == std::vector<std::uint32_t>{5});
    REQUIRE(engine.rows().size() == 1);

    const auto row = engine.rows()[0];
    CHECK(row.key() == "dearborn-1960/engine/N/1963/division=Lincoln");
    CHECK(row.words() == engine.words()[0]);
    CHECK(row.condition() == "division is Lincoln");
    CHECK(row.standing() == PLW_STANDING_PUBLISHED);
    CHECK(row.holds_in(1963));
    CHECK_FALSE(row.holds_in(1973));
    CHECK(row.quantity("cid") == 430000);
    CHECK_FALSE(row.quantity("doors"));
    CHECK(row.attributes()[0] == std::pair<std::string_view, std::string>("cid", "430"));
    CHECK(row.sources()[0].key() == "mile63lin");
    CHECK(row.sources()[0].citation() != "");
}

TEST_CASE("what is taken out outlives what it came from")
{
    std::vector<plw::field> fields;
    {
        const auto given = with_fixture();
        fields = plw::validate("T24K3P100051", given).readings().at(0).fields();
    }
    REQUIRE_FALSE(fields.empty());
    for (const auto &field : fields)
        for (const auto &row : field.rows())
            CHECK(row.key().compare(0, 12, "port-ellery-") == 0);
}

TEST_CASE("every form of an explanation")
{
    const auto result = plw::validate("3Y86N400001");
    CHECK(result.explain().find("Lincoln Continental") != std::string::npos);
    CHECK(result.explain(PLW_FORMAT_MARKDOWN).find("Lincoln Continental") != std::string::npos);
    CHECK(result.explain(PLW_FORMAT_JSON).compare(0, 10, "{\"format\":") == 0);
    CHECK(result.explain(PLW_FORMAT_SVG).compare(0, 4, "<svg") == 0);
    CHECK(result.explain(PLW_FORMAT_TEXT, PLW_EXPLAIN_SOURCES).size() > result.explain().size());
    CHECK(plw::explain("3Y86N400001", PLW_FORMAT_JSON) == result.explain(PLW_FORMAT_JSON));
}

TEST_CASE("findings, what a position can be, and what would settle it")
{
    const auto result = plw::validate("3Y86?400001");
    const auto findings = result.findings();
    const auto unreadable = std::find_if(findings.begin(), findings.end(), [](const auto &f) {
        return f.code() == PLW_FINDING_UNREADABLE;
    });
    REQUIRE(unreadable != findings.end());
    CHECK(unreadable->name() == "unreadable");
    CHECK(unreadable->grade() == PLW_GRADE_NOTE);
    CHECK(unreadable->positions() == std::vector<std::uint32_t>{5});
    CHECK_FALSE(unreadable->sentence().empty());

    const auto possibles = result.readings()[0].possibles(5);
    const auto n = std::find_if(possibles.begin(), possibles.end(),
                                [](const auto &p) { return p.character == U'N'; });
    REQUIRE(n != possibles.end());
    CHECK_FALSE(n->rows.empty());

    const auto open = plw::decode("8R0?C100001");
    for (const auto &settling : open.settlings()) {
        CHECK_FALSE(settling.codes().empty());
        CHECK_FALSE(settling.years().empty());
        CHECK_FALSE(settling.field().label().empty());
    }
    CHECK_FALSE(open.settlings().empty());
    CHECK(open.findings().empty());
}

TEST_CASE("a check character")
{
    const auto result = plw::validate("1M8GDM9AXKP042789");
    REQUIRE_FALSE(result.readings().empty());
    CHECK(result.readings()[0].check() == PLW_CHECK_FAILS);
    CHECK(result.readings()[0].expected_check() == U'1');
}

TEST_CASE("hints rank, claims are judged")
{
    plw::options given;
    given.hints = "year=1963";
    given.claims = "engine=430 V8; body=hardtop; colour=blue";
    const auto result = plw::validate("3Y86N400001", given);
    const auto claims = result.claims();
    REQUIRE(claims.size() == 3);
    CHECK(claims[0].attribute() == "engine");
    CHECK(claims[0].value() == "430 V8");
    CHECK(claims[0].verdict() == PLW_VERDICT_SUPPORTED);
    CHECK(claims[0].reading() == 0);
    CHECK(claims[0].standing() == PLW_STANDING_PUBLISHED);
    CHECK_FALSE(claims[0].rows().empty());
    CHECK(claims[1].verdict() == PLW_VERDICT_CONTRADICTED);
    CHECK(claims[1].positions() == std::vector<std::uint32_t>{3, 4});
    CHECK_FALSE(claims[1].sentence().empty());
    CHECK(claims[2].reason() == PLW_REASON_NOT_UNDERSTOOD);
    CHECK_FALSE(claims[2].standing());
}

TEST_CASE("grade and batch agree with validate")
{
    auto numbers = published();
    numbers.push_back(""s);
    numbers.push_back(std::string(PLW_MAX_TEXT + 1, 'A'));
    const auto rows = plw::batch(numbers);
    REQUIRE(rows.size() == numbers.size());
    CHECK(rows.back().status == PLW_E_TOO_LONG);
    for (std::size_t i = 0; i + 1 < rows.size(); i++) {
        const auto result = plw::validate(numbers[i]);
        CAPTURE(numbers[i]);
        CHECK(rows[i].status == PLW_OK);
        CHECK(rows[i].grade == result.grade());
        CHECK(rows[i].grade == plw::grade(numbers[i]));
        CHECK(rows[i].readings == static_cast<std::int32_t>(result.readings().size()));
        CHECK(rows[i].findings == static_cast<std::int32_t>(result.findings().size()));
        CHECK(rows[i].scheme.has_value() == !result.readings().empty());
        if (rows[i].scheme)
            CHECK(*rows[i].scheme == result.readings()[0].scheme().index());
    }
    CHECK(plw::batch(std::vector<std::string>{}).empty());
}

TEST_CASE("suggestions")
{
    CHECK(plw::suggest("1M8GDM9AXKP042788").suggestions().empty());
    REQUIRE_FALSE(plw::suggest("5F08N100001").suggestions().empty());
    const auto nearest = plw::suggest("5F08N100001").suggestions()[0];
    CHECK(nearest.grade() < plw::grade("5F08N100001"));
    CHECK(plw::grade(nearest.number()) == nearest.grade());
    CHECK(nearest.positions() == std::vector<std::uint32_t>{5});
    CHECK(nearest.typed(5) == U'N');
    CHECK(static_cast<char>(nearest.meant(5)) == nearest.number()[4]);
    CHECK(nearest.standing() == PLW_STANDING_MEMORY);
    CHECK_FALSE(nearest.sentence().empty());
}

TEST_CASE("the beginning of a number")
{
    const auto open = plw::prefix("3Y");
    CHECK(open.state == PLW_PREFIX_OPEN);
    CHECK(open.remaining_max >= open.remaining_min);
    CHECK(open.allowed.find('8') != std::string::npos);
    CHECK(std::any_of(open.schemes.begin(), open.schemes.end(),
                      [](const auto &s) { return s.key() == "dearborn-1960"; }));
    CHECK(plw::prefix("").state == PLW_PREFIX_OPEN);
    CHECK(plw::prefix({}).known == plw::prefix("").known);
}

TEST_CASE("tables from an image, and names")
{
    const auto image = content("FIXTURE");
    plw::options given;
    given.tables = plw::tables::open(image);
    CHECK(given.tables.digest().size() == 16);
    CHECK(given.tables.digest() != plw::tables().digest());
    CHECK(given.tables.edition().size() == 10);
    const auto schemes = given.tables.schemes();
    REQUIRE(schemes.size() == 2);
    CHECK(schemes[0].key() == "port-ellery-1962");
    CHECK(schemes[0].rows().front().scheme().key() == schemes[0].key());
    CHECK(schemes[0].layouts().front().length() == schemes[0].layouts().front().sample().size());
    CHECK_FALSE(given.tables.sources().empty());
    CHECK_FALSE(given.tables.cautions().empty());

    given.names = plw::names("field/engine = Maschine\nscheme/port-ellery-1962 = Grüße\n"
                             "nonsense\n",
                             given.tables);
    const auto problems = given.names.problems();
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].line == 3);
    CHECK_FALSE(problems[0].text.empty());
    CHECK(given.names.title(schemes[0]) == "Grüße");
    const auto result = plw::validate(schemes[0].layouts()[0].sample(), given);
    CHECK(result.readings().at(0).title() == "Grüße");
    CHECK(result.readings()[0].field("engine").value().label() == "Maschine");

    CHECK(status_of([&] { plw::tables::open(image.substr(0, 100)); }) == PLW_E_IMAGE);
    CHECK(status_of([&] { plw::tables::open({}); }) == PLW_E_IMAGE);
}

TEST_CASE("plates and dates of a car")
{
    const auto car =
        plw::compare({{PLW_PLACE_DASH, "3Y86N400001"}, {PLW_PLACE_DOOR_LABEL, "3Y86N400002"}},
                     {{PLW_DATE_CASTING, "no date"}});
    CHECK(car.verdict() == PLW_PLATE_DIFFERS);
    const auto plates = car.plates();
    REQUIRE(plates.size() == 2);
    CHECK(plates[1].place() == PLW_PLACE_DOOR_LABEL);
    CHECK(plates[1].number() == "3Y86N400002");
    CHECK(plates[1].taken() == PLW_TAKEN_FULL);
    CHECK(plates[1].shows(11) == "2");
    CHECK(plates[1].positions().size() == 11);
    CHECK(plates[0].compared(1).size() == 11);
    CHECK(plates[0].differs(1) == std::vector<std::uint32_t>{11});
    CHECK_FALSE(plates[0].sentence().empty());

    const auto differences = car.differences();
    REQUIRE(differences.size() == 2);
    CHECK(differences[0].position() == 11);
    CHECK(differences[0].shows() == "1");
    CHECK(differences[0].plates() == std::vector<std::uint32_t>{0});
    CHECK(differences[0].years() == std::vector<std::int32_t>{1963});
    CHECK_FALSE(differences[0].sentence().empty());

    REQUIRE_FALSE(car.joined().empty());
    CHECK(car.joined()[0].number == "3Y86N40000[12]");
    CHECK(car.joined()[0].scheme.key() == "dearborn-1960");
    CHECK(car.reading().value().years() == std::vector<std::int32_t>{1963});
    CHECK(car.result().number() == "3Y86N40000[12]");
    CHECK_FALSE(car.advice().empty());
    CHECK(car.built().value().first > 19620101);

    const auto dates = car.dates();
    REQUIRE(dates.size() == 1);
    CHECK(dates[0].text() == "NO DATE");
    CHECK(dates[0].verdict() == PLW_DATE_VERDICT_OPEN);
    CHECK(dates[0].spans().empty());
    CHECK_FALSE(dates[0].against());
    CHECK(car.date_verdict() == PLW_DATE_VERDICT_OPEN);

    plw::options given;
    given.claims = "year=1970";
    CHECK(
        plw::compare({{PLW_PLACE_DASH, "3Y86N400001"}}, {}, given).result().claims()[0].verdict() ==
        PLW_VERDICT_CONTRADICTED);
    CHECK(car.explain(PLW_FORMAT_JSON).find("\"differences\"") != std::string::npos);
    CHECK_FALSE(plw::compare({}).reading());
    CHECK(status_of([] { plw::compare({{99, "3Y86N400001"}}); }) == PLW_E_ARGUMENT);
}

TEST_CASE("from claims to numbers")
{
    const auto found = plw::expect("year=1963; engine=430 V8; line=Continental");
    const auto patterns = found.patterns();
    const auto covering = std::find_if(patterns.begin(), patterns.end(), [](const auto &pattern) {
        return plw::covers(pattern.text(), "3Y86N400001") == true;
    });
    REQUIRE(covering != patterns.end());
    CHECK(covering->scheme().key() == "dearborn-1960");
    CHECK(covering->layout().length() == 11);
    CHECK(covering->years() == std::vector<std::int32_t>{1963});
    CHECK(covering->tells(0));
    CHECK_FALSE(covering->rows().empty());
    CHECK(covering->standing() == PLW_STANDING_PUBLISHED);
    CHECK(covering->range().find("400001") != std::string::npos);
    CHECK_FALSE(covering->sentence().empty());
    CHECK(found.explain().find(covering->text()) != std::string::npos);
    CHECK(found.explain(PLW_FORMAT_JSON).front() == '{');
    REQUIRE(found.claims().size() == 3);
    CHECK(found.claims()[1].text == "engine=430 V8");
    CHECK(found.claims()[1].attribute == "engine");
    CHECK(found.claims()[1].understood);

    const auto none = plw::expect("year=1963; year=1964");
    CHECK(none.patterns().empty());
    CHECK(none.claims()[0].rules_out);
    CHECK_FALSE(none.sentence().empty());
    CHECK(plw::covers("3Y86A4?????", "3Y86N400001") == false);
    CHECK(plw::covers("3Y86N400001", "3Y86?400001") == std::nullopt);
    CHECK(status_of([] { plw::expect("blue"); }) == PLW_E_CLAIM);
}

TEST_CASE("what the library refuses")
{
    const std::string long_text(PLW_MAX_TEXT + 1, 'A');
    CHECK(status_of([&] { plw::validate(long_text); }) == PLW_E_TOO_LONG);
    CHECK(status_of([&] { plw::grade(long_text); }) == PLW_E_TOO_LONG);
    CHECK(status_of([] { plw::validate("A").explain(99); }) == PLW_E_FLAGS);
    CHECK(status_of([] { plw::validate("A").position(40); }) == PLW_E_ARGUMENT);

    plw::options given;
    given.hints = "colour=blue";
    CHECK(status_of([&] { plw::decode("A", given); }) == PLW_E_HINT);
    CHECK(status_of([&] { plw::batch(std::vector{"A"}, given); }) == PLW_E_HINT);
    given.hints = std::string_view("year=1963\0", 10);
    CHECK(status_of([&] { plw::decode("A", given); }) == PLW_E_HINT);
    given.hints = {};
    given.claims = "no equals sign";
    CHECK(status_of([&] { plw::decode("A", given); }) == PLW_E_CLAIM);

    try {
        plw::validate(long_text);
        FAIL("taken");
    } catch (const plw::error &refused) {
        CHECK(refused.name() == "PLW_E_TOO_LONG");
        CHECK(std::string(refused.what()).find("PLW_E_TOO_LONG") != std::string::npos);
    }
}

TEST_CASE("any bytes are a number")
{
    CHECK(plw::validate({}).findings().at(0).code() == PLW_FINDING_EMPTY);
    CHECK(plw::validate("３Ｙ８６Ｎ４００００１").number() == "3Y86N400001");
    CHECK(plw::validate("3Y86N\000400001"s).grade() != PLW_GRADE_CLEAR);
    CHECK_FALSE(plw::validate("\xff\xfe日本").findings().empty());
}

TEST_CASE("threads share tables and names")
{
    auto given = with_fixture();
    given.names = plw::names("field/engine = Maschine\n", given.tables);
    const auto sample = given.tables.schemes().at(0).layouts().at(0).sample();
    const auto expected = plw::explain(sample, PLW_FORMAT_JSON, given);
    const auto numbers = published();
    const auto all = plw::batch(numbers);

    std::vector<int> wrong(4);
    std::vector<std::thread> threads;
    for (int &mine : wrong)
        threads.emplace_back([&] {
            for (int round = 0; round < 20; round++) {
                mine += plw::explain(sample, PLW_FORMAT_JSON, given) != expected;
                for (std::size_t i = 0; i < numbers.size(); i++)
                    mine += plw::validate(numbers[i]).grade() != all[i].grade;
            }
        });
    for (auto &thread : threads)
        thread.join();
    CHECK(wrong == std::vector<int>(4));
}

TEST_CASE("a library of another release" * doctest::skip())
{
    CHECK_THROWS_AS(plw::validate("A"), plw::version_error);
    CHECK_THROWS_WITH(plw::tables(), "this program was compiled for platewright " PLW_VERSION_TEXT
                                     "; the library found has number 20000");
}

TEST_CASE("a library without memory" * doctest::skip())
{
    CHECK_THROWS_AS(plw::validate("A"), std::bad_alloc);
    CHECK_THROWS_AS(plw::prefix("A"), std::bad_alloc);
}
