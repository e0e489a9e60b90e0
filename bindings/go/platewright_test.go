// SPDX-License-Identifier: MIT

package platewright_test

import (
	"errors"
	"os"
	"os/exec"
	"reflect"
	"runtime"
	"strings"
	"sync"
	"testing"

	"platewright"
)

const lincoln = "3Y86N400001"

func content(t *testing.T, variable string) []byte {
	t.Helper()
	bytes, err := os.ReadFile(os.Getenv(variable))
	if err != nil {
		t.Fatal(err)
	}
	return bytes
}

// published gives the whole numbers of the published examples.
func published(t *testing.T) []string {
	var numbers []string
	for _, line := range strings.Split(string(content(t, "EXAMPLES")), "\n") {
		if line != "" && !strings.HasPrefix(line, "#") && !strings.HasPrefix(line, "stamp:") {
			numbers = append(numbers, strings.SplitN(line, "\t", 2)[0])
		}
	}
	if len(numbers) < 10 {
		t.Fatal("no examples")
	}
	return numbers
}

func fixture(t *testing.T) *platewright.Tables {
	tables, err := platewright.OpenTables(content(t, "FIXTURE"))
	must(t, err)
	return tables
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func equal(t *testing.T, got, want any) {
	t.Helper()
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %#v, want %#v", got, want)
	}
}

func TestValidate(t *testing.T) {
	result, err := platewright.Validate("3Y86-N400001", &platewright.Options{Sources: true})
	must(t, err)
	equal(t, result.Number, lincoln)
	equal(t, result.Grade, "clear")
	equal(t, len(result.Readings), 1)
	reading := result.Readings[0]
	equal(t, reading.Scheme, "dearborn-1960")
	equal(t, reading.Years, []int{1963})
	equal(t, reading.Check.State, "none")
	equal(t, reading.Field("no such field") == nil, true)
	engine := reading.Field("engine")
	equal(t, engine.Code, "N")
	equal(t, engine.Positions, []int{5})
	equal(t, engine.State, "known")
	meaning := engine.Meanings[0]
	equal(t, meaning.Key, "dearborn-1960/engine/N/1963/division=Lincoln")
	equal(t, meaning.Years, [][2]int{{1963, 1963}})
	equal(t, meaning.Attributes["cid"], float64(430))
	equal(t, meaning.DisplacementCuIn, float64(430))
	equal(t, meaning.Sources, []string{"mile63lin"})
	equal(t, len(result.Sources) > 0, true)
	equal(t, len(result.Cautions) > 0, true)
	equal(t, len(result.Tables.Digest), 16)
}

func TestFindingsAndSettling(t *testing.T) {
	result, err := platewright.Validate("8R0?C100001", nil)
	must(t, err)
	found := map[string]platewright.Finding{}
	for _, finding := range result.Findings {
		found[finding.Code] = finding
	}
	equal(t, found["unreadable"].Positions, []int{4})
	equal(t, found["unreadable"].Reading == nil, true)
	equal(t, found["several-readings"].Grade, "note")
	equal(t, len(result.Settling) > 0, true)
	decoded, err := platewright.Decode("8R0?C100001", nil)
	must(t, err)
	equal(t, len(decoded.Findings), 0)
	equal(t, len(decoded.Readings), len(result.Readings))
	failing, err := platewright.Validate("1M8GDM9AXKP042789", nil)
	must(t, err)
	equal(t, *failing.Readings[0].Check.Expected, "1")
}

func TestExplain(t *testing.T) {
	for format, begins := range map[platewright.Format]string{
		"text": lincoln, "json": "{", "svg": "<svg", "html": "<!DOCTYPE html>", "markdown": "",
	} {
		explanation, err := platewright.Explain(lincoln, format, nil)
		must(t, err)
		if !strings.HasPrefix(explanation, begins) || !strings.Contains(explanation, "Lincoln") {
			t.Errorf("%s: %.60s", format, explanation)
		}
	}
	short, _ := platewright.Explain(lincoln, "text", nil)
	long, err := platewright.Explain(lincoln, "text", &platewright.Options{Sources: true})
	must(t, err)
	equal(t, len(long) > len(short), true)
}

func TestClaimsAndHints(t *testing.T) {
	result, err := platewright.Validate(lincoln, &platewright.Options{
		Hints: "year=1963", Claims: "engine=430 V8; body=hardtop; colour=blue"})
	must(t, err)
	equal(t, result.Claims[0].Verdict, "supported")
	equal(t, *result.Claims[0].Standing, "published")
	equal(t, result.Claims[1].Verdict, "contradicted")
	equal(t, result.Claims[1].Positions, []int{3, 4})
	equal(t, result.Claims[2].Reason, "not-understood")
	equal(t, result.Claims[2].Attribute == nil, true)
}

func TestBatchAgreesWithValidate(t *testing.T) {
	numbers := append(published(t), "", strings.Repeat("A", 257))
	rows, err := platewright.Batch(numbers, nil)
	must(t, err)
	equal(t, len(rows), len(numbers))
	last := len(numbers) - 1
	equal(t, errors.Is(rows[last].Err, platewright.ErrTooLong), true)
	for i, number := range numbers[:last] {
		result, err := platewright.Validate(number, nil)
		must(t, err)
		grade, err := platewright.Grade(number, nil)
		must(t, err)
		row := rows[i]
		equal(t, row.Err, nil)
		equal(t, row.Grade, result.Grade)
		equal(t, grade, result.Grade)
		equal(t, row.Readings, len(result.Readings))
		equal(t, row.Findings, len(result.Findings))
		if row.Readings > 0 {
			equal(t, row.Scheme, result.Readings[0].Scheme)
		}
	}
	none, err := platewright.Batch(nil, nil)
	must(t, err)
	equal(t, len(none), 0)
}

func TestSuggest(t *testing.T) {
	result, err := platewright.Suggest("5F08N100001", nil)
	must(t, err)
	nearest := result.Suggestions[0]
	grade, err := platewright.Grade(nearest.Number, nil)
	must(t, err)
	equal(t, grade, nearest.Grade)
	equal(t, nearest.Changes[0].Position, 5)
	equal(t, nearest.Changes[0].Typed, "N")
}

func TestPrefix(t *testing.T) {
	beginning, err := platewright.Prefix("3Y", nil)
	must(t, err)
	equal(t, beginning.State, "open")
	equal(t, strings.Contains(beginning.Allowed, "8"), true)
	equal(t, strings.Contains(strings.Join(beginning.Schemes, " "), "dearborn-1960"), true)
	equal(t, beginning.RemainingMax >= beginning.RemainingMin, true)
	empty, err := platewright.Prefix("", &platewright.Options{Tables: fixture(t)})
	must(t, err)
	equal(t, empty.Schemes, []string{"port-ellery-1962", "port-ellery-1976"})
}

func TestCompare(t *testing.T) {
	car := platewright.Car{
		Plates: []platewright.FoundPlate{{"dash", lincoln}, {"door_label", "3Y86N400002"}},
		Dates:  []platewright.FoundDate{{"casting", "no date"}},
	}
	comparison, err := platewright.Compare(car, &platewright.Options{Claims: "year=1970"})
	must(t, err)
	equal(t, comparison.Verdict, "differs")
	equal(t, comparison.Plates[1].Place, "door_label")
	equal(t, comparison.Plates[1].Taken, "full")
	equal(t, comparison.Plates[0].DiffersFrom[0].Positions, []int{11})
	equal(t, comparison.Differences[0].Plates, []int{0})
	equal(t, comparison.Joined[0].Number, "3Y86N40000[12]")
	equal(t, comparison.Reading.Years, []int{1963})
	equal(t, comparison.Reading.Scheme, "dearborn-1960")
	equal(t, comparison.Dates[0].Verdict, "open")
	equal(t, *comparison.DateVerdict, "open")
	equal(t, comparison.Claims[0].Verdict, "contradicted")
	equal(t, comparison.Built.First < "1963", true)
	equal(t, len(comparison.Next) > 0, true)
	words, err := platewright.ExplainCar(car, "text", nil)
	must(t, err)
	equal(t, strings.Contains(words, lincoln), true)
	empty, err := platewright.Compare(platewright.Car{}, nil)
	must(t, err)
	equal(t, empty.Reading == nil, true)
}

func TestExpect(t *testing.T) {
	const claims = "year=1963; engine=430 V8; line=Continental"
	expectation, err := platewright.Expect(claims, nil)
	must(t, err)
	equal(t, len(expectation.Claims), 3)
	equal(t, expectation.Claims[1].Understood, true)
	var found *platewright.Pattern
	for i, pattern := range expectation.Patterns {
		coverage, err := platewright.Covers(pattern.Pattern, lincoln)
		must(t, err)
		if coverage.Covered {
			found = &expectation.Patterns[i]
		}
	}
	equal(t, found.Scheme, "dearborn-1960")
	equal(t, found.Length, len(lincoln))
	words, err := platewright.ExplainExpectation(claims, "text", nil)
	must(t, err)
	equal(t, strings.Contains(words, found.Pattern), true)
	none, err := platewright.Expect("year=1963; year=1964", nil)
	must(t, err)
	equal(t, len(none.Patterns), 0)
	equal(t, none.Claims[0].RulesOut || none.Claims[1].RulesOut, true)
	coverage, err := platewright.Covers(lincoln, "3Y86?400001")
	must(t, err)
	equal(t, coverage, platewright.Coverage{Open: true, Position: 5})
	coverage, err = platewright.Covers("3Y86A4?????", lincoln)
	must(t, err)
	equal(t, coverage, platewright.Coverage{Position: 5})
}

func TestTablesAndNames(t *testing.T) {
	tables := fixture(t)
	schemes, err := tables.Schemes()
	must(t, err)
	equal(t, len(schemes), 2)
	equal(t, schemes[0].Key, "port-ellery-1962")
	equal(t, len(schemes[0].Layouts[0].Sample), schemes[0].Layouts[0].Length)
	own, err := tables.Digest()
	must(t, err)
	builtIn, err := (*platewright.Tables)(nil).Digest()
	must(t, err)
	equal(t, len(own), 16)
	equal(t, own != builtIn, true)
	edition, err := tables.Edition()
	must(t, err)
	equal(t, len(edition), 10)

	names, err := platewright.NewNames(
		"field/engine = Maschine\nscheme/port-ellery-1962 = Grüße\nnonsense\n", tables)
	must(t, err)
	problems, err := names.Problems()
	must(t, err)
	equal(t, len(problems), 1)
	equal(t, problems[0].Line, 3)
	options := &platewright.Options{Tables: tables, Names: names}
	result, err := platewright.Validate(schemes[0].Layouts[0].Sample, options)
	must(t, err)
	equal(t, result.Readings[0].Title, "Grüße")
	equal(t, result.Readings[0].Field("engine").Label, "Maschine")

	must(t, tables.Close())
	must(t, tables.Close())
	_, err = platewright.Validate(lincoln, &platewright.Options{Tables: tables})
	equal(t, err, platewright.ErrClosed)
	_, err = names.Problems()
	equal(t, err, platewright.ErrClosed)
	must(t, names.Close())
	_, err = platewright.Validate(lincoln, &platewright.Options{Names: names})
	equal(t, err, platewright.ErrClosed)
}

func TestRefusals(t *testing.T) {
	long := strings.Repeat("A", 257)
	with := func(hints, claims string) *platewright.Options {
		return &platewright.Options{Hints: hints, Claims: claims}
	}
	refused := func(want error, refused error) {
		t.Helper()
		if !errors.Is(refused, want) {
			t.Errorf("got %v, want %v", refused, want)
		}
	}
	_, err := platewright.Validate(long, nil)
	refused(platewright.ErrTooLong, err)
	equal(t, strings.Contains(err.Error(), "PLW_E_TOO_LONG"), true)
	_, err = platewright.Grade(long, nil)
	refused(platewright.ErrTooLong, err)
	_, err = platewright.Prefix(long, nil)
	refused(platewright.ErrTooLong, err)
	_, err = platewright.Decode("A", with("colour=blue", ""))
	refused(platewright.ErrHint, err)
	_, err = platewright.Batch([]string{"A"}, with("colour=blue", ""))
	refused(platewright.ErrHint, err)
	_, err = platewright.Decode("A", with("year=1963\x00", ""))
	refused(platewright.ErrHint, err)
	_, err = platewright.Decode("A", with("", "blue"))
	refused(platewright.ErrClaim, err)
	for _, format := range []platewright.Format{"poem", "TEXT", ""} {
		_, err = platewright.Explain("A", format, nil)
		refused(platewright.ErrFormat, err)
	}
	plate := func(place, number string) platewright.Car {
		return platewright.Car{Plates: []platewright.FoundPlate{{place, number}}}
	}
	_, err = platewright.Compare(plate("roof", "A"), nil)
	refused(platewright.ErrArgument, err)
	_, err = platewright.Compare(plate("dash", long), nil)
	refused(platewright.ErrTooLong, err)
	_, err = platewright.Compare(plate("dash", "A"), with("", "blue"))
	refused(platewright.ErrClaim, err)
	_, err = platewright.Expect("blue", nil)
	refused(platewright.ErrClaim, err)
	_, err = platewright.Covers(long, "A")
	refused(platewright.ErrTooLong, err)
	_, err = platewright.OpenTables(content(t, "FIXTURE")[:100])
	refused(platewright.ErrImage, err)
	_, err = platewright.OpenTables(nil)
	refused(platewright.ErrImage, err)
	_, err = platewright.NewNames(strings.Repeat("#", 4194305), nil)
	refused(platewright.ErrTooLong, err)
	equal(t, errors.Is(err, platewright.ErrHint), false)
}

func TestAnyBytes(t *testing.T) {
	for number, want := range map[string]string{
		"３Ｙ８６Ｎ４００００１": lincoln, "": "", "3Y86N\x00400001": "", "\xff\xfe日本": ""} {
		result, err := platewright.Validate(number, nil)
		must(t, err)
		if want != "" {
			equal(t, result.Number, want)
		} else {
			equal(t, result.Grade != "clear", true)
		}
	}
}

func TestGoroutinesShareTables(t *testing.T) {
	tables := fixture(t)
	names, err := platewright.NewNames("field/engine = Maschine", tables)
	must(t, err)
	options := &platewright.Options{Tables: tables, Names: names}
	numbers := append(published(t), "T24K3P100051")
	want, err := platewright.Batch(numbers, options)
	must(t, err)
	var group sync.WaitGroup
	for i := 0; i < 8; i++ {
		group.Add(1)
		go func() {
			defer group.Done()
			for round := 0; round < 10; round++ {
				for i, number := range numbers {
					result, err := platewright.Validate(number, options)
					if err != nil || result.Grade != want[i].Grade {
						t.Errorf("%s: %v", number, err)
						return
					}
				}
				runtime.GC()
			}
		}()
	}
	group.Wait()
}

// Closing while others call: every call is whole or is told that they are closed.
func TestCloseWhileOthersCall(t *testing.T) {
	tables := fixture(t)
	var group sync.WaitGroup
	for i := 0; i < 4; i++ {
		group.Add(1)
		go func() {
			defer group.Done()
			for {
				result, err := platewright.Validate("T24K3P100051",
					&platewright.Options{Tables: tables})
				if err == platewright.ErrClosed {
					return
				}
				if err != nil || result.Readings[0].Scheme != "port-ellery-1962" {
					t.Errorf("%v %v", result, err)
					return
				}
			}
		}()
	}
	runtime.Gosched()
	must(t, tables.Close())
	group.Wait()
}

// Run by the next test, with a function in the place of the library's.
func TestAlone(t *testing.T) {
	_, err := platewright.Validate(lincoln, nil)
	switch os.Getenv("ALONE") {
	case "":
		must(t, err)
	case "other release":
		equal(t, errors.Is(err, platewright.ErrLibrary), true)
		equal(t, strings.Contains(err.Error(), "20000"), true)
		_, err = platewright.NewNames("", nil)
		equal(t, errors.Is(err, platewright.ErrLibrary), true)
	case "no memory":
		equal(t, errors.Is(err, platewright.ErrMemory), true)
	}
}

func TestOtherLibraries(t *testing.T) {
	for what, library := range map[string]string{
		"other release": os.Getenv("OTHER_RELEASE"), "no memory": os.Getenv("NO_MEMORY")} {
		command := exec.Command(os.Args[0], "-test.run=^TestAlone$", "-test.v")
		command.Env = append(os.Environ(), "ALONE="+what, "LD_PRELOAD="+library)
		said, err := command.CombinedOutput()
		if err != nil || !strings.Contains(string(said), "--- PASS: TestAlone") {
			t.Errorf("%s: %v: %s", what, err, said)
		}
	}
}
