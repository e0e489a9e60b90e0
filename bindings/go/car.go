// SPDX-License-Identifier: MIT

package platewright

// #include <platewright.h>
import "C"

import "encoding/json"

// FoundPlate is a place ("dash", "door_label", "engine") and the number there.
type FoundPlate struct {
	Place  string
	Number string
}

// FoundDate is a kind of date ("casting", "assembly", "body_tag", "label") and the
// code as it stands on the part.
type FoundDate struct {
	Kind string
	Code string
}

// Car is what was found where.
type Car struct {
	Plates []FoundPlate
	Dates  []FoundDate
}

// Compare holds the plates and dates of a car against each other, and the claims
// against what the plates say together.
func Compare(car Car, options *Options) (*Comparison, error) {
	document, err := ExplainCar(car, "json", options)
	if err != nil {
		return nil, err
	}
	comparison := new(Comparison)
	return comparison, json.Unmarshal([]byte(document), comparison)
}

// ExplainCar says in words what Compare found.
func ExplainCar(car Car, format Format, options *Options) (string, error) {
	code, err := formatOf(format)
	if err != nil {
		return "", err
	}
	var explanation string
	err = withCall(options, func(with *call) error {
		var held *C.plw_car
		if err := errorOf(C.plw_car_new(&held)); err != nil {
			return err
		}
		defer C.plw_car_free(held)
		if err := car.compare(with, options, held); err != nil {
			return err
		}
		explanation, err = text(func(out *C.char, capacity C.size_t, needed *C.size_t) C.int32_t {
			return C.plw_explain_car(held, code, flagsOf(options), out, capacity, needed)
		})
		return err
	})
	return explanation, err
}

func (car Car) compare(with *call, options *Options, held *C.plw_car) error {
	C.plw_car_use_names(held, with.names)
	for _, plate := range car.Plates {
		text, length := bytesOf(plate.Number)
		if err := errorOf(C.plw_car_add_plate(held, placeOf(plate.Place), text, length)); err != nil {
			return err
		}
	}
	for _, date := range car.Dates {
		text, length := bytesOf(date.Code)
		if err := errorOf(C.plw_car_add_date(held, kindOf(date.Kind), text, length)); err != nil {
			return err
		}
	}
	if err := errorOf(C.plw_compare(with.tables, held, with.hints, 0)); err != nil {
		return err
	}
	if options == nil || options.Claims == "" {
		return nil
	}
	claims, length := bytesOf(options.Claims)
	return errorOf(C.plw_car_check_claims(held, claims, length))
}

// placeOf is the number of a place, 0, which the library refuses, for no place.
func placeOf(name string) C.int32_t {
	return numberOf(name, func(number C.int32_t) string {
		return C.GoString(C.plw_place_name(number))
	})
}

func kindOf(name string) C.int32_t {
	return numberOf(name, func(number C.int32_t) string {
		return C.GoString(C.plw_date_kind_name(number))
	})
}

func numberOf(name string, nameOf func(C.int32_t) string) C.int32_t {
	for number := C.int32_t(1); nameOf(number) != ""; number++ {
		if nameOf(number) == name {
			return number
		}
	}
	return 0
}

// Comparison is all there is to say about the plates and dates of one car. Its form
// is the library's JSON.
type Comparison struct {
	Verdict          string       `json:"verdict"`
	Summary          string       `json:"summary"`
	Plates           []Plate      `json:"plates"`
	Differences      []Difference `json:"differences"`
	ExpectedNotGiven []Missing    `json:"expected_not_given"`
	DateVerdict      *string      `json:"date_verdict"`
	Built            *Days        `json:"built"` // when it can have been built
	Dates            []Date       `json:"dates"`
	Joined           []Joined     `json:"joined"` // best first
	JoinedCapped     bool         `json:"joined_capped"`
	Reading          *struct {
		Joined
		Years []int `json:"years"`
	} `json:"reading"`
	Findings []Finding `json:"findings"`
	Claims   []Claim   `json:"claims"`
	Next     []string  `json:"next"` // what to look at next
	Sources  []Source  `json:"sources"`
	Tables   Identity  `json:"tables"`
	Library  string    `json:"library"`
	Cautions []string  `json:"cautions"`
}

// Plate is one plate, held against the others.
type Plate struct {
	Place       string   `json:"place"`
	Label       string   `json:"label"`
	Number      string   `json:"number"`
	Taken       string   `json:"taken"` // "full", "partial" or "not"
	Row         *Row     `json:"row"`
	Positions   []int    `json:"positions"` // of the full number
	Shows       []string `json:"shows"`     // at these positions
	Verdict     string   `json:"verdict"`
	AgreesWith  []int    `json:"agrees_with"` // indices of plates
	DiffersFrom []struct {
		Plate     int   `json:"plate"`
		Positions []int `json:"positions"`
	} `json:"differs_from"`
	Sentence string `json:"sentence"`
}

// Row is a row of the tables that a comparison names.
type Row struct {
	Key      string   `json:"key"`
	Words    string   `json:"words"`
	Standing string   `json:"standing"`
	Sources  []string `json:"sources"`
}

// Difference is a character that plates show where others show another.
type Difference struct {
	Position int    `json:"position"`
	Shows    string `json:"shows"`
	Plates   []int  `json:"plates"`
	Years    []int  `json:"years"`
	Rows     []Row  `json:"rows"`
	Sentence string `json:"sentence"`
}

// Missing is a place where the tables expect the number and nothing was given.
type Missing struct {
	Place    string `json:"place"`
	Label    string `json:"label"`
	Row      Row    `json:"row"`
	Sentence string `json:"sentence"`
}

// Days are a run of days, "1966-03-21".
type Days struct {
	First string `json:"first"`
	Last  string `json:"last"`
}

// Date is one date code, held against the car.
type Date struct {
	Kind       string `json:"kind"`
	Label      string `json:"label"`
	Text       string `json:"text"`
	Days       []Days `json:"days"` // it can mean
	DaysCapped bool   `json:"days_capped"`
	Verdict    string `json:"verdict"`
	Reason     string `json:"reason"`
	Grade      string `json:"grade"`
	Row        *Row   `json:"row"`     // how such dates are written
	Rule       *Row   `json:"rule"`    // of thumb, for an early one
	Against    *int   `json:"against"` // index of the other date
	Sentence   string `json:"sentence"`
}

// Joined is what the plates say together.
type Joined struct {
	Scheme string `json:"scheme"`
	Title  string `json:"title"`
	Number string `json:"number"`
}
