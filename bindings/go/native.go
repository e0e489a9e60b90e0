// SPDX-License-Identifier: MIT

package platewright

// #include <platewright.h>
// #include <stdlib.h>
import "C"

import (
	"runtime"
	"strings"
	"sync"
)

// call is what every call of the library is given.
type call struct {
	tables *C.plw_tables
	names  *C.plw_names
	hints  *C.char
}

// withCall keeps tables and names open while do runs.
func withCall(options *Options, do func(with *call) error) error {
	if err := checkVersion(); err != nil {
		return err
	}
	if options == nil {
		return do(&call{})
	}
	if strings.ContainsRune(options.Hints, 0) {
		return errorOf(C.PLW_E_HINT)
	}
	var with call
	if options.Hints != "" {
		with.hints, _ = bytesOf(options.Hints)
	}
	return options.Tables.use(func(tables *C.plw_tables) error {
		return options.Names.use(func(names *C.plw_names) error {
			with.tables, with.names = tables, names
			return do(&with)
		})
	})
}

// verb is a function of the library that reads a number.
type verb func(with *call, number string, result *C.plw_result) C.int32_t

func decode(with *call, number string, result *C.plw_result) C.int32_t {
	text, length := bytesOf(number)
	return C.plw_decode(with.tables, text, length, with.hints, 0, result)
}

func validate(with *call, number string, result *C.plw_result) C.int32_t {
	text, length := bytesOf(number)
	return C.plw_validate(with.tables, text, length, with.hints, 0, result)
}

func suggest(with *call, number string, result *C.plw_result) C.int32_t {
	text, length := bytesOf(number)
	return C.plw_suggest(with.tables, text, length, with.hints, 0, result)
}

// native is a result of the library, used by one call at a time and again by others.
type native struct {
	result *C.plw_result
}

var idle sync.Pool

// withNative lends do a result of the library.
func withNative(do func(result *C.plw_result) error) error {
	lent, _ := idle.Get().(*native)
	if lent == nil {
		lent = new(native)
		if err := errorOf(C.plw_result_new(&lent.result)); err != nil {
			return err
		}
		runtime.SetFinalizer(lent, func(old *native) { C.plw_result_free(old.result) })
	}
	err := do(lent.result)
	C.plw_result_use_names(lent.result, nil)
	idle.Put(lent)
	return err
}

// withResult lends do a result that the verb has filled, claims checked.
func withResult(verb verb, number string, options *Options,
	do func(result *C.plw_result) error) error {
	return withCall(options, func(with *call) error {
		return withNative(func(result *C.plw_result) error {
			C.plw_result_use_names(result, with.names)
			if err := errorOf(verb(with, number, result)); err != nil {
				return err
			}
			if options != nil && options.Claims != "" {
				claims, length := bytesOf(options.Claims)
				if err := errorOf(C.plw_check_claims(result, claims, length)); err != nil {
					return err
				}
			}
			return do(result)
		})
	})
}

// ---- What is closed -----------------------------------------------------------

// handle is memory of the library, which is given back when it is closed and the
// last call that uses it is over.
type handle struct {
	lock   sync.Mutex
	uses   int
	closed bool
	free   func()
}

func (h *handle) use(do func() error) error {
	h.lock.Lock()
	if h.closed {
		h.lock.Unlock()
		return ErrClosed
	}
	h.uses++
	h.lock.Unlock()
	defer func() {
		h.lock.Lock()
		defer h.lock.Unlock()
		h.uses--
		if h.closed && h.uses == 0 {
			h.free()
		}
	}()
	return do()
}

func (h *handle) close() {
	h.lock.Lock()
	defer h.lock.Unlock()
	if !h.closed && h.uses == 0 {
		h.free()
	}
	h.closed = true
}

// ---- Tables ------------------------------------------------------------------

// Tables are schemes, rows and sources that were opened from an image.
type Tables struct {
	handle
	opened *C.plw_tables
}

// OpenTables opens an image that the table compiler wrote. The bytes are copied.
// Close gives the memory back; so does the garbage collector.
func OpenTables(image []byte) (*Tables, error) {
	if err := checkVersion(); err != nil {
		return nil, err
	}
	memory := C.CBytes(image)
	tables := new(Tables)
	status := C.plw_tables_open(memory, C.size_t(len(image)), 0, &tables.opened)
	if err := errorOf(status); err != nil {
		C.free(memory)
		return nil, err
	}
	tables.free = func() { C.free(memory) }
	runtime.SetFinalizer(tables, (*Tables).Close)
	return tables, nil
}

// Close makes later calls with these tables fail. It may be called again.
func (t *Tables) Close() error {
	t.close()
	return nil
}

// use holds the tables open while do runs; nil tables are the compiled-in ones.
func (t *Tables) use(do func(tables *C.plw_tables) error) error {
	if t == nil {
		return do(nil)
	}
	return t.handle.use(func() error { return do(t.opened) })
}

// Scheme is one layout that a maker used over a span of model years.
type Scheme struct {
	Key       string
	Title     string
	FirstYear int
	LastYear  int
	Rows      int
	Layouts   []Layout
}

// Layout is one length of the numbers of a scheme.
type Layout struct {
	Length int
	Sample string
}

// Schemes of the tables; nil tables are the compiled-in ones.
func (t *Tables) Schemes() ([]Scheme, error) {
	var schemes []Scheme
	err := t.use(func(tables *C.plw_tables) error {
		for i := C.uint32_t(0); i < C.plw_scheme_count(tables); i++ {
			schemes = append(schemes, schemeOf(tables, i))
		}
		return checkVersion()
	})
	return schemes, err
}

func schemeOf(tables *C.plw_tables, index C.uint32_t) Scheme {
	scheme := Scheme{
		Key:       C.GoString(C.plw_scheme_key(tables, index)),
		Title:     C.GoString(C.plw_scheme_title(tables, index)),
		FirstYear: int(C.plw_scheme_first_year(tables, index)),
		LastYear:  int(C.plw_scheme_last_year(tables, index)),
		Rows:      int(C.plw_scheme_row_count(tables, index)),
	}
	for i := C.uint32_t(0); i < C.plw_layout_count(tables, index); i++ {
		scheme.Layouts = append(scheme.Layouts, Layout{
			Length: int(C.plw_layout_length(tables, index, i)),
			Sample: C.GoString(C.plw_layout_sample(tables, index, i)),
		})
	}
	return scheme
}

// Digest of the image, as 16 hexadecimal digits. Keep it where an answer is filed.
func (t *Tables) Digest() (digest string, err error) {
	err = t.use(func(tables *C.plw_tables) (err error) {
		digest, err = text(func(out *C.char, capacity C.size_t, needed *C.size_t) C.int32_t {
			return C.plw_tables_digest(tables, out, capacity, needed)
		})
		return err
	})
	return digest, err
}

// Edition is the date written in the tables, "2026-11-25".
func (t *Tables) Edition() (edition string, err error) {
	err = t.use(func(tables *C.plw_tables) error {
		edition = C.GoString(C.plw_tables_edition(tables))
		return nil
	})
	return edition, err
}

// ---- Names -------------------------------------------------------------------

// Names are a host's own words, in place of those of the tables.
type Names struct {
	handle
	tables *Tables
	names  *C.plw_names
}

// NameProblem is a line of a names text that does not count.
type NameProblem struct {
	Line int // from 1
	Text string
}

// NewNames reads a names text for these tables; nil tables are the compiled-in
// ones. Close gives the memory back; so does the garbage collector.
func NewNames(words string, tables *Tables) (*Names, error) {
	if err := checkVersion(); err != nil {
		return nil, err
	}
	names := &Names{tables: tables}
	err := tables.use(func(opened *C.plw_tables) error {
		text, length := bytesOf(words)
		return errorOf(C.plw_names_new(opened, text, length, &names.names))
	})
	if err != nil {
		return nil, err
	}
	native := names.names
	names.free = func() { C.plw_names_free(native) }
	runtime.SetFinalizer(names, (*Names).Close)
	return names, nil
}

// Close makes later calls with these names fail. It may be called again.
func (n *Names) Close() error {
	n.close()
	return nil
}

// use holds the names and their tables open while do runs.
func (n *Names) use(do func(names *C.plw_names) error) error {
	if n == nil {
		return do(nil)
	}
	return n.handle.use(func() error {
		return n.tables.use(func(*C.plw_tables) error { return do(n.names) })
	})
}

// Problems of lines are no error: the other lines count.
func (n *Names) Problems() (problems []NameProblem, err error) {
	err = n.use(func(names *C.plw_names) error {
		for i := C.uint32_t(0); i < C.plw_names_problem_count(names); i++ {
			sentence, err := text(func(out *C.char, capacity C.size_t, needed *C.size_t) C.int32_t {
				return C.plw_names_problem_text(names, i, out, capacity, needed)
			})
			if err != nil {
				return err
			}
			problems = append(problems, NameProblem{int(C.plw_names_problem_line(names, i)), sentence})
		}
		return nil
	})
	return problems, err
}
