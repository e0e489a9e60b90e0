// SPDX-License-Identifier: MIT
//
// Answers are what the library writes as JSON: its JSON Schemas, explain.schema.json
// and car.schema.json, describe them in full.

/** Whatever the library refuses. */
export class PlatewrightError extends Error {
    /** The name of the status ("PLW_E_TOO_LONG"); "PLATEWRIGHT_LIBRARY" when the library
     * is missing or of another release, "PLATEWRIGHT_CLOSED" for tables or names after close. */
    readonly code: string;
    readonly status: number | null;
}

export type Grade = 'clear' | 'note' | 'doubt' | 'fault';
export type Standing = 'published' | 'practice' | 'memory';
export type Mark = 'disputed' | 'either' | 'doubtful';
export type Format = 'text' | 'markdown' | 'json' | 'svg' | 'html';

/** Start and end of a position in the string that was given. */
export type Span = [start: number, end: number];

/** What the host believes: it ranks readings, and hides none. */
export type Hints = string | { maker?: string; year?: number | string; scheme?: string };

/** What a listing says, attribute: value; plw_check_claims(3) lists every form. */
export type Claims =
    | string
    | { readonly [attribute: string]: string | number | null | undefined }
    | Iterable<readonly [attribute: string, value: string | number]>;

/** Plates by place, or pairs where a place bears several. */
export type Plates =
    | { readonly [place: string]: string }
    | Iterable<readonly [place: string, number: string]>;

/** Date codes as they were found, by kind, or pairs where there are several of one kind. */
export type Dates =
    | { readonly [kind: string]: string }
    | Iterable<readonly [kind: string, date: string]>;

export interface TableOptions {
    /** Another set than the compiled-in one. */
    tables?: Tables | null | undefined;
}

export interface ReadOptions extends TableOptions {
    hints?: Hints | null | undefined;
    /** The host's own words, made for the same tables. */
    names?: Names | null | undefined;
    claims?: Claims | null | undefined;
    /** List the sources in full. */
    sources?: boolean | undefined;
}

export interface ExplainOptions extends ReadOptions {
    /** "text", for a terminal, unless said otherwise. */
    format?: Format | undefined;
    /** Look for nearby numbers, too, as suggest does. */
    suggest?: boolean | undefined;
}

export interface CompareOptions extends ReadOptions {
    dates?: Dates | null | undefined;
}

export interface ExplainCarOptions extends CompareOptions {
    format?: Format | undefined;
}

export type ExpectOptions = Omit<ReadOptions, 'claims'>;
export type ExplainExpectationOptions =
    ExpectOptions & { format?: 'text' | 'markdown' | 'json' | undefined };

/** One row of the tables: what a code means, and how sure that is. */
export interface Meaning {
    key: string;
    words: string;
    remark: string;
    condition: string;
    years: [first: number, last: number][];
    standing: Standing;
    marks: Mark[];
    attributes: { [name: string]: number | string };
    displacement_cc?: number;
    displacement_cu_in?: number;
    sources: string[];
}

export interface Field {
    field: string;
    label: string;
    /** From 1. */
    positions: number[];
    code: string;
    state: 'known' | 'unknown' | 'unreadable' | 'plain' | 'check';
    detail: boolean;
    meanings: Meaning[];
    excludes_years: number[];
}

export interface Reading {
    scheme: string;
    title: string;
    number: string;
    grade: Grade;
    years: number[];
    fields: Field[];
    check: { state: 'none' | 'fits' | 'fails' | 'open'; expected: string | null };
}

export interface Settling {
    reading: number;
    years: number[];
    field: string;
    label: string;
    positions: number[];
    codes: string[];
}

export interface Finding {
    code: string;
    number: number;
    grade: Exclude<Grade, 'clear'>;
    reading: number | null;
    positions: number[];
    sentence: string;
}

export interface Claim {
    claim: string;
    attribute: string | null;
    value: string;
    verdict: 'supported' | 'contradicted' | 'not-told';
    reason: string;
    reading: number | null;
    positions: number[];
    rows: string[];
    standing: Standing | null;
    marks: Mark[];
    sentence: string;
}

export interface Suggestion {
    number: string;
    grade: Grade;
    standing: Standing;
    changes: { position: number; typed: string; meant: string }[];
    sentence: string;
}

export interface Source {
    key: string;
    citation: string;
    address: string;
}

interface Answer {
    format: number;
    /** The sources that rows name; only with `sources`. */
    sources?: Source[];
    tables: { edition: string; digest: string };
    library: string;
    /** What an output for people must close with. */
    cautions: string[];
}

/** All there is to say about one number. */
export interface Explanation extends Answer {
    number: string;
    positions: number;
    grade: Grade;
    readings: Reading[];
    settling: Settling[];
    findings: Finding[];
    /** Only where claims were given. */
    claims?: Claim[];
    /** Only of suggest. */
    suggestions?: Suggestion[];
    suggestions_left_out?: number;
    spans: Span[];
}

/** What the beginning of a number leaves open. */
export interface Prefix {
    state: 'impossible' | 'open' | 'complete';
    /** Keys of the schemes it can belong to. */
    schemes: string[];
    /** The characters that can come next, and those that lead on to what the tables list. */
    allowed: string;
    known: string;
    remaining_min: number;
    remaining_max: number;
    spans: Span[];
}

/** The verdict on one number of many, or the error that kept it from being read. */
export type BatchRow =
    | { error: string }
    | {
        error: null;
        grade: Grade;
        /** The gravest one. */
        finding: string | null;
        scheme: string | null;
        first_year: number | null;
        last_year: number | null;
        readings: number;
        findings: number;
    };

export type PlateVerdict = 'agrees' | 'differs' | 'cannot-compare' | 'not-expected';

export interface Row {
    key: string;
    words: string;
    standing: Standing;
    sources: string[];
}

export interface Plate {
    place: string;
    label: string;
    number: string;
    taken: 'not' | 'full' | 'partial';
    row: Row | null;
    positions: number[];
    shows: string[];
    verdict: PlateVerdict;
    agrees_with: number[];
    differs_from: { plate: number; positions: number[] }[];
    sentence: string;
}

export interface Difference {
    position: number;
    shows: string;
    plates: number[];
    years: number[];
    rows: Row[];
    sentence: string;
}

export type DateVerdict = 'fits' | 'later' | 'order' | 'early' | 'open';

/** Days as YYYY-MM-DD. */
export interface Days {
    first: string;
    last: string;
}

/** A date code, held against the car. */
export interface DateCode {
    kind: string;
    label: string;
    text: string;
    days: Days[];
    days_capped: boolean;
    verdict: DateVerdict;
    reason: string;
    grade: Grade;
    row: Row | null;
    rule: Row | null;
    against: number | null;
    sentence: string;
}

/** All there is to say about the plates of one car. */
export interface Comparison extends Answer {
    verdict: PlateVerdict | null;
    summary: string;
    plates: Plate[];
    differences: Difference[];
    expected_not_given: { place: string; label: string; row: Row; sentence: string }[];
    joined: { scheme: string; title: string; number: string }[];
    joined_capped: boolean;
    date_verdict: DateVerdict | null;
    /** When the car can have been built. */
    built: Days | null;
    dates: DateCode[];
    reading: { scheme: string; title: string; number: string; years: number[] } | null;
    /** On the joined number. */
    findings: Finding[];
    /** Only where claims were given. */
    claims?: Claim[];
    next: string[];
}

export interface ExpectedClaim {
    text: string;
    attribute: string;
    understood: boolean;
    rules_out: boolean;
    left_without: boolean;
}

/** A number with sets of characters, "?27[RZ]8P??????", which decode takes. */
export interface Pattern {
    pattern: string;
    scheme: string;
    title: string;
    length: number;
    years: number[];
    range: string;
    /** Indices of the claims that it tells and that it leaves open. */
    tells: number[];
    open: number[];
    rows: Row[];
    more_rows: boolean;
    /** The weakest of these rows. */
    standing: Standing | null;
    marks: Mark[];
    sentence: string;
}

/** The numbers that could bear claims. */
export interface Expectation extends Answer {
    summary: string;
    claims: ExpectedClaim[];
    patterns: Pattern[];
    capped: boolean;
}

export interface Scheme {
    key: string;
    title: string;
    first_year: number;
    last_year: number;
    rows: number;
    layouts: { length: number; sample: string }[];
}

/** Tables that were opened from an image. They are given back when nothing refers
 * to them any more, or at once by close. */
export interface Tables {
    close(): void;
}

/** A host's own words in place of those of the tables. */
export interface Names {
    /** Lines of the text that do not count, from 1, and what to write. */
    readonly problems: { line: number; sentence: string }[];
    close(): void;
}

/** The library. It belongs to one thread; a worker makes its own by importing it. */
export interface Platewright {
    /** Every way to read the number, ranked. '?' is a character that cannot be read,
     * "[8B]" one that can be either. */
    decode(number: string, options?: ReadOptions): Explanation;
    /** The same, and all findings. */
    validate(number: string, options?: ReadOptions): Explanation;
    /** The same, and where the number does not hold, the nearest that would: guesses. */
    suggest(number: string, options?: ReadOptions): Explanation;
    /** Validates, and says it in words or as a drawing. */
    explain(number: string, options?: ExplainOptions): string;
    /** Just the grade. */
    grade(number: string, options?: TableOptions & { hints?: Hints | null }): Grade;
    /** Many numbers by one call of the library. */
    batch(
        numbers: Iterable<string>, options?: TableOptions & { hints?: Hints | null },
    ): BatchRow[];
    /** The beginning of a number, for a form at every key stroke. */
    prefix(beginning: string, options?: TableOptions): Prefix;

    /** Holds the plates of a car against each other, and dates and claims against them. */
    compare(plates: Plates, options?: CompareOptions): Comparison;
    explainCar(plates: Plates, options?: ExplainCarOptions): string;
    /** The places where a plate can be, by name: their labels for people. */
    readonly places: { [place: string]: string };
    /** The same for the kinds of dates. */
    readonly dateKinds: { [kind: string]: string };

    /** The patterns of the numbers that could bear the claims. */
    expect(claims: Claims, options?: ExpectOptions): Expectation;
    explainExpectation(claims: Claims, options?: ExplainExpectationOptions): string;
    /** Whether a pattern covers a number; null: its unreadable characters decide. The
     * position is the first that does not fit or is open. */
    covers(pattern: string, number: string): { covered: boolean | null; position: number | null };

    /** Opens an image that the table compiler wrote. The bytes are checked and copied. */
    tables(image: ArrayBufferView): Tables;
    /** Makes names of a text of "key = words" lines. */
    names(text: string, options?: TableOptions): Names;
    /** The date written in the tables, and the digest of their image. */
    edition(tables?: Tables | null): string;
    digest(tables?: Tables | null): string;
    schemes(tables?: Tables | null): Scheme[];

    readonly version: string;
    /** Every number of the header by its name. */
    readonly constants: { readonly [name: string]: number };
}
