// SPDX-License-Identifier: MIT

package platewright

// Result is all there is to say about one number. Its form is the library's JSON,
// of which a JSON Schema is installed.
type Result struct {
	Number             string       `json:"number"` // as read
	Positions          int          `json:"positions"`
	Grade              string       `json:"grade"`    // of the best reading
	Readings           []Reading    `json:"readings"` // best first
	Settling           []Settling   `json:"settling"`
	Findings           []Finding    `json:"findings"` // gravest first
	Claims             []Claim      `json:"claims"`
	Suggestions        []Suggestion `json:"suggestions"` // nearest first
	SuggestionsLeftOut int          `json:"suggestions_left_out"`
	Sources            []Source     `json:"sources"`
	Tables             Identity     `json:"tables"`
	Library            string       `json:"library"`
	Cautions           []string     `json:"cautions"` // outputs for people must close with them
}

// Identity tells which tables answered.
type Identity struct {
	Edition string `json:"edition"`
	Digest  string `json:"digest"`
}

// Reading is one way to read the number.
type Reading struct {
	Scheme string  `json:"scheme"`
	Title  string  `json:"title"`
	Number string  `json:"number"` // misread characters replaced
	Grade  string  `json:"grade"`
	Years  []int   `json:"years"` // none when the fields exclude each other
	Fields []Field `json:"fields"`
	Check  struct {
		State    string  `json:"state"`    // "none", "fits", "fails" or "open"
		Expected *string `json:"expected"` // what the check character should be
	} `json:"check"`
}

// Field is the first field of that name, or nil.
func (r *Reading) Field(name string) *Field {
	for i := range r.Fields {
		if r.Fields[i].Name == name {
			return &r.Fields[i]
		}
	}
	return nil
}

// Field is a named span of positions.
type Field struct {
	Name          string    `json:"field"`
	Label         string    `json:"label"`
	Positions     []int     `json:"positions"` // from 1
	Code          string    `json:"code"`
	State         string    `json:"state"`  // "known", "unknown", "unreadable", "plain", "check"
	Detail        bool      `json:"detail"` // only adds detail to other fields
	Meanings      []Meaning `json:"meanings"`
	ExcludesYears []int     `json:"excludes_years"`
}

// Meaning is a row of the tables: what a code means, and how sure that is.
type Meaning struct {
	Key              string         `json:"key"`
	Words            string         `json:"words"`
	Remark           string         `json:"remark"`
	Condition        string         `json:"condition"`
	Years            [][2]int       `json:"years"`    // runs of model years
	Standing         string         `json:"standing"` // "published", "practice" or "memory"
	Marks            []string       `json:"marks"`
	Attributes       map[string]any `json:"attributes"`
	DisplacementCC   float64        `json:"displacement_cc"` // 0 when not stated
	DisplacementCuIn float64        `json:"displacement_cu_in"`
	Sources          []string       `json:"sources"` // keys
}

// Settling tells codes of a field that would leave only these model years.
type Settling struct {
	Reading   int      `json:"reading"`
	Years     []int    `json:"years"`
	Field     string   `json:"field"`
	Label     string   `json:"label"`
	Positions []int    `json:"positions"`
	Codes     []string `json:"codes"`
}

// Finding is something validation has to say.
type Finding struct {
	Code      string `json:"code"` // stable, "check-wrong"
	Number    int    `json:"number"`
	Grade     string `json:"grade"`
	Reading   *int   `json:"reading"` // index; nil when it speaks of the number
	Positions []int  `json:"positions"`
	Sentence  string `json:"sentence"`
}

// Claim is what was claimed, held against the number.
type Claim struct {
	Claim     string   `json:"claim"`     // as given
	Attribute *string  `json:"attribute"` // nil: not known
	Value     string   `json:"value"`
	Verdict   string   `json:"verdict"` // "supported", "contradicted" or "not-told"
	Reason    string   `json:"reason"`
	Reading   *int     `json:"reading"` // index of the best that supports it
	Positions []int    `json:"positions"`
	Rows      []string `json:"rows"`     // keys of the rows that decide
	Standing  *string  `json:"standing"` // the weakest of them
	Marks     []string `json:"marks"`
	Sentence  string   `json:"sentence"`
}

// Suggestion is a nearby number that would hold: a guess.
type Suggestion struct {
	Number   string `json:"number"`
	Grade    string `json:"grade"` // it would have
	Standing string `json:"standing"`
	Changes  []struct {
		Position int    `json:"position"`
		Typed    string `json:"typed"`
		Meant    string `json:"meant"`
	} `json:"changes"`
	Sentence string `json:"sentence"`
}

// Source is a citable publication.
type Source struct {
	Key      string `json:"key"`
	Citation string `json:"citation"`
	Address  string `json:"address"`
}
