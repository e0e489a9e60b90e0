// SPDX-License-Identifier: MIT

package platewright

// #include <platewright.h>
import "C"

import "encoding/json"

// Expectation has the patterns of the numbers that could bear claims. Its form is
// the library's JSON.
type Expectation struct {
	Summary  string          `json:"summary"`
	Claims   []ExpectedClaim `json:"claims"`
	Patterns []Pattern       `json:"patterns"`
	Capped   bool            `json:"capped"` // there is more than is listed
	Sources  []Source        `json:"sources"`
	Tables   Identity        `json:"tables"`
	Library  string          `json:"library"`
	Cautions []string        `json:"cautions"`
}

// ExpectedClaim is a claim as given.
type ExpectedClaim struct {
	Text        string `json:"text"`
	Attribute   string `json:"attribute"`
	Understood  bool   `json:"understood"`
	RulesOut    bool   `json:"rules_out"`    // it is why there is no pattern
	LeftWithout bool   `json:"left_without"` // without it something would be left
}

// Pattern is a pattern of numbers, which Decode takes.
type Pattern struct {
	Pattern  string   `json:"pattern"`
	Scheme   string   `json:"scheme"`
	Title    string   `json:"title"`
	Length   int      `json:"length"`
	Years    []int    `json:"years"`
	Range    string   `json:"range"` // running numbers that the tables know for it
	Tells    []int    `json:"tells"` // indices of claims
	Open     []int    `json:"open"`
	Rows     []Row    `json:"rows"`
	MoreRows bool     `json:"more_rows"`
	Standing *string  `json:"standing"` // the weakest of the rows
	Marks    []string `json:"marks"`
	Sentence string   `json:"sentence"`
}

// Expect gives, for every scheme, the patterns of the numbers that could bear the
// claims ("year=1971; body=convertible"). Claims in the options have no part in it.
func Expect(claims string, options *Options) (*Expectation, error) {
	document, err := ExplainExpectation(claims, "json", options)
	if err != nil {
		return nil, err
	}
	expectation := new(Expectation)
	return expectation, json.Unmarshal([]byte(document), expectation)
}

// ExplainExpectation says in words what Expect found.
func ExplainExpectation(claims string, format Format, options *Options) (string, error) {
	code, err := formatOf(format)
	if err != nil {
		return "", err
	}
	var explanation string
	err = withCall(options, func(with *call) error {
		var held *C.plw_expectation
		if err := errorOf(C.plw_expectation_new(&held)); err != nil {
			return err
		}
		defer C.plw_expectation_free(held)
		C.plw_expectation_use_names(held, with.names)
		bytes, length := bytesOf(claims)
		err := errorOf(C.plw_expect(with.tables, bytes, length, with.hints, 0, held))
		if err != nil {
			return err
		}
		explanation, err = text(func(out *C.char, capacity C.size_t, needed *C.size_t) C.int32_t {
			return C.plw_explain_expectation(held, code, flagsOf(options), out, capacity, needed)
		})
		return err
	})
	return explanation, err
}

// Coverage tells whether a pattern covers a number.
type Coverage struct {
	Covered  bool
	Open     bool // the number's unreadable characters decide
	Position int  // the first that does not fit or is open, from 1; 0 when covered
}

// Covers reads both as Decode does, without tables.
func Covers(pattern, number string) (Coverage, error) {
	if err := checkVersion(); err != nil {
		return Coverage{}, err
	}
	var covered C.int32_t
	var position C.uint32_t
	first, firstLength := bytesOf(pattern)
	second, secondLength := bytesOf(number)
	status := C.plw_pattern_covers(first, firstLength, second, secondLength, &covered, &position)
	return Coverage{
		Covered:  covered == C.PLW_COVERED,
		Open:     covered == C.PLW_COVERED_OPEN,
		Position: int(position),
	}, errorOf(status)
}
