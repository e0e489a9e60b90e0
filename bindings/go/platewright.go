// SPDX-License-Identifier: MIT

// Package platewright reads the numbers stamped on collector cars.
//
// It calls the installed C library through cgo and adds no logic of its own. What
// comes back are plain values. All functions may be called from several goroutines
// at once. Every number can be read, however odd: what is strange about it comes
// back as findings, not as an error.
package platewright

// #cgo pkg-config: platewright
// #include <platewright.h>
import "C"

import (
	"bytes"
	"encoding/json"
	"strings"
	"unsafe"
)

// Options are what a call may be told beside the number. A nil *Options is none.
type Options struct {
	Hints   string  // "maker=Ford; year=1970": they rank readings and hide none
	Claims  string  // "engine=440 V8; body=convertible", as plw_check_claims(3) lists
	Sources bool    // list the sources in full
	Tables  *Tables // nil: the compiled-in tables
	Names   *Names  // nil: the words of the tables
}

// Format is the name of a format of plw_explain(3) in small letters: "text",
// "markdown", "json", "svg", "html".
type Format string

// VersionText is the release of the C library that is running.
func VersionText() string {
	return C.GoString(C.plw_version_text())
}

// Constant is a number of the C header, by its name ("PLW_MAX_TEXT").
func Constant(name string) (int64, error) {
	var value C.int64_t
	zeroEnded := append([]byte(name), 0)
	status := C.plw_constant((*C.char)(unsafe.Pointer(&zeroEnded[0])), &value)
	return int64(value), errorOf(status)
}

// ---- Numbers ---------------------------------------------------------------

// Decode gives every way to read the number, ranked.
func Decode(number string, options *Options) (*Result, error) {
	return read(decode, number, options)
}

// Validate is like Decode, and has all findings.
func Validate(number string, options *Options) (*Result, error) {
	return read(validate, number, options)
}

// Suggest is like Validate, and where the number does not hold has the nearest
// numbers that would, as guesses.
func Suggest(number string, options *Options) (*Result, error) {
	return read(suggest, number, options)
}

// Explain says in words what Validate found.
func Explain(number string, format Format, options *Options) (string, error) {
	code, err := formatOf(format)
	if err != nil {
		return "", err
	}
	var explanation string
	err = withResult(validate, number, options, func(result *C.plw_result) (err error) {
		explanation, err = explained(result, code, flagsOf(options))
		return err
	})
	return explanation, err
}

// Grade is just the grade: "clear", "note", "doubt" or "fault".
func Grade(number string, options *Options) (string, error) {
	var grade C.int32_t
	err := withCall(options, func(with *call) error {
		text, length := bytesOf(number)
		return errorOf(C.plw_grade(with.tables, text, length, with.hints, 0, &grade))
	})
	if err != nil {
		return "", err
	}
	return C.GoString(C.plw_grade_name(grade)), nil
}

// BatchRow is the verdict on one number of a batch.
type BatchRow struct {
	Err       error  // why this number was not read; the rest is then empty
	Grade     string // "clear", "note", "doubt" or "fault"
	Finding   int    // PLW_FINDING_ of the gravest, or 0
	Scheme    string // key of the best reading's scheme, or ""
	FirstYear int    // of the best reading, or 0
	LastYear  int
	Readings  int
	Findings  int
}

// Batch gives the verdict on many numbers by one call of the library. Claims and
// names have no part in it.
func Batch(numbers []string, options *Options) ([]BatchRow, error) {
	rows := make([]BatchRow, len(numbers))
	err := withCall(options, func(with *call) error {
		ends := make([]C.size_t, len(numbers)+1)
		total := 0
		for i, number := range numbers {
			total += len(number)
			ends[i] = C.size_t(total)
		}
		columns := make([]C.int32_t, len(rows)*C.PLW_BATCH_COLUMNS+1)
		text, _ := bytesOf(strings.Join(numbers, ""))
		status := C.plw_batch(with.tables, text, &ends[0], C.size_t(len(numbers)), with.hints, 0,
			&columns[0])
		for i := range rows {
			rows[i].fill(with.tables, columns[i*C.PLW_BATCH_COLUMNS:])
		}
		return errorOf(status)
	})
	if err != nil {
		return nil, err
	}
	return rows, nil
}

func (row *BatchRow) fill(tables *C.plw_tables, columns []C.int32_t) {
	if row.Err = errorOf(columns[C.PLW_BATCH_STATUS]); row.Err != nil {
		return
	}
	row.Grade = C.GoString(C.plw_grade_name(columns[C.PLW_BATCH_GRADE]))
	row.Finding = int(columns[C.PLW_BATCH_FINDING])
	if scheme := columns[C.PLW_BATCH_SCHEME]; scheme >= 0 {
		row.Scheme = C.GoString(C.plw_scheme_key(tables, C.uint32_t(scheme)))
	}
	row.FirstYear = int(columns[C.PLW_BATCH_FIRST_YEAR])
	row.LastYear = int(columns[C.PLW_BATCH_LAST_YEAR])
	row.Readings = int(columns[C.PLW_BATCH_READINGS])
	row.Findings = int(columns[C.PLW_BATCH_FINDINGS])
}

// Beginning is what the beginning of a number leaves open.
type Beginning struct {
	State        string   // "impossible", "open" or "complete"
	Schemes      []string // keys of those it can belong to
	Allowed      string   // characters that can come next
	Known        string   // those that lead on to what the tables list
	RemainingMin int      // characters still to come
	RemainingMax int
}

// Prefix is for a form, at every key stroke. Of the options only the tables count.
func Prefix(text string, options *Options) (*Beginning, error) {
	var beginning *Beginning
	err := withCall(options, func(with *call) error {
		return withNative(func(result *C.plw_result) (err error) {
			bytes, length := bytesOf(text)
			if err = errorOf(C.plw_prefix(with.tables, bytes, length, 0, result)); err == nil {
				beginning, err = beginningOf(with.tables, result)
			}
			return err
		})
	})
	return beginning, err
}

func beginningOf(tables *C.plw_tables, result *C.plw_result) (*Beginning, error) {
	beginning := &Beginning{
		State:        nameOf("PLW_PREFIX_", int64(C.plw_prefix_state(result))),
		Schemes:      []string{},
		RemainingMin: int(C.plw_prefix_remaining_min(result)),
		RemainingMax: int(C.plw_prefix_remaining_max(result)),
	}
	for i := C.uint32_t(0); i < C.plw_prefix_scheme_count(result); i++ {
		key := C.plw_scheme_key(tables, C.plw_prefix_scheme(result, i))
		beginning.Schemes = append(beginning.Schemes, C.GoString(key))
	}
	var err error
	beginning.Allowed, err = text(func(out *C.char, capacity C.size_t, needed *C.size_t) C.int32_t {
		return C.plw_prefix_allowed(result, out, capacity, needed)
	})
	if err != nil {
		return nil, err
	}
	beginning.Known, err = text(func(out *C.char, capacity C.size_t, needed *C.size_t) C.int32_t {
		return C.plw_prefix_known(result, out, capacity, needed)
	})
	return beginning, err
}

// ---- What they are made of ---------------------------------------------------

func read(verb verb, number string, options *Options) (*Result, error) {
	var document string
	err := withResult(verb, number, options, func(result *C.plw_result) (err error) {
		document, err = explained(result, C.PLW_FORMAT_JSON, flagsOf(options))
		return err
	})
	if err != nil {
		return nil, err
	}
	result := new(Result)
	return result, json.Unmarshal([]byte(document), result)
}

func explained(result *C.plw_result, format C.int32_t, flags C.uint32_t) (string, error) {
	return text(func(out *C.char, capacity C.size_t, needed *C.size_t) C.int32_t {
		return C.plw_explain(result, format, flags, out, capacity, needed)
	})
}

func flagsOf(options *Options) C.uint32_t {
	if options != nil && options.Sources {
		return C.PLW_EXPLAIN_SOURCES
	}
	return 0
}

func formatOf(format Format) (C.int32_t, error) {
	code, err := Constant("PLW_FORMAT_" + strings.ToUpper(string(format)))
	if err != nil || string(format) != strings.ToLower(string(format)) {
		return 0, errorOf(C.PLW_E_FLAGS)
	}
	return C.int32_t(code), nil
}

// nameOf is the name of a number: that of its constant, without the prefix.
func nameOf(prefix string, number int64) string {
	for i := C.uint32_t(0); i < C.plw_constant_count(); i++ {
		name := C.GoString(C.plw_constant_name(i))
		if strings.HasPrefix(name, prefix) && int64(C.plw_constant_value(i)) == number {
			return strings.ToLower(strings.TrimPrefix(name, prefix))
		}
	}
	return ""
}

// bytesOf gives the bytes of a text to the library, which wants an address also for
// no bytes.
func bytesOf(text string) (*C.char, C.size_t) {
	copied := append([]byte(text), 0)
	return (*C.char)(unsafe.Pointer(&copied[0])), C.size_t(len(text))
}

// text is what a function writes to a buffer.
func text(write func(out *C.char, capacity C.size_t, needed *C.size_t) C.int32_t) (string, error) {
	buffer := make([]byte, 8192)
	var needed C.size_t
	status := write((*C.char)(unsafe.Pointer(&buffer[0])), C.size_t(len(buffer)), &needed)
	if status == C.PLW_E_SHORT {
		buffer = make([]byte, needed)
		status = write((*C.char)(unsafe.Pointer(&buffer[0])), needed, &needed)
	}
	if err := errorOf(status); err != nil {
		return "", err
	}
	return string(bytes.TrimSuffix(buffer[:needed], []byte{0})), nil
}
