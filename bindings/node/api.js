// SPDX-License-Identifier: MIT
//
// The binding itself. It calls the C library through an engine, which knows how
// to reach it: native.js the installed library, ../wasm/platewright.js the
// WebAssembly build. Nothing of what the library knows is repeated here.
//
// An engine has
//   call(name, ...arguments)  calls a function of `signatures`; a pointer is null, an
//                             address, a block, or a typed array that is only read
//   block(size)               memory that the library can write to; null: there is none
//   bytes(block)              a Uint8Array on it, good until the next call
//   release(block)            gives it back
//   words(numbers)            a typed array of size_t
//   word(bytes, offset)       a size_t, read from bytes
//   address(bytes, offset)    an address, read from bytes

// Result and parameters: i int32_t, u uint32_t, l int64_t, z size_t, p pointer,
// t text that is borrowed from the library.
export const signatures = {
    plw_version_number: 'u',
    plw_version_text: 't',
    plw_status_name: 't i',
    plw_status_text: 't i',
    plw_constant_count: 'u',
    plw_constant_name: 't u',
    plw_constant_value: 'l u',
    plw_tables_open: 'i p z u p',
    plw_tables_edition: 't p',
    plw_tables_digest: 'i p p z p',
    plw_scheme_count: 'u p',
    plw_scheme_key: 't p u',
    plw_scheme_title: 't p u',
    plw_scheme_first_year: 'i p u',
    plw_scheme_last_year: 'i p u',
    plw_scheme_row_count: 'u p u',
    plw_layout_count: 'u p u',
    plw_layout_length: 'u p u u',
    plw_layout_sample: 't p u u',
    plw_result_size: 'z',
    plw_result_place: 'i p z p',
    plw_result_use_names: 'i p p',
    plw_names_size: 'z p z',
    plw_names_place: 'i p p z p z p',
    plw_names_problem_count: 'u p',
    plw_names_problem_line: 'u p u',
    plw_names_problem_text: 'i p u p z p',
    plw_decode: 'i p p z p u p',
    plw_validate: 'i p p z p u p',
    plw_suggest: 'i p p z p u p',
    plw_grade: 'i p p z p u p',
    plw_grade_name: 't i',
    plw_batch: 'i p p p z p u p',
    plw_prefix: 'i p p z u p',
    plw_prefix_state: 'i p',
    plw_prefix_scheme_count: 'u p',
    plw_prefix_scheme: 'u p u',
    plw_prefix_allowed: 'i p p z p',
    plw_prefix_known: 'i p p z p',
    plw_prefix_remaining_min: 'u p',
    plw_prefix_remaining_max: 'u p',
    plw_result_position_count: 'u p',
    plw_result_position: 'i p u p p',
    plw_check_claims: 'i p p z',
    plw_explain: 'i p i u p z p',
    plw_place_name: 't i',
    plw_place_label: 't i',
    plw_car_size: 'z',
    plw_car_place: 'i p z p',
    plw_car_clear: 'v p',
    plw_car_use_names: 'i p p',
    plw_car_add_plate: 'i p i p z',
    plw_date_kind_name: 't i',
    plw_date_kind_label: 't i',
    plw_car_add_date: 'i p i p z',
    plw_compare: 'i p p p u',
    plw_car_check_claims: 'i p p z',
    plw_explain_car: 'i p i u p z p',
    plw_expectation_size: 'z',
    plw_expectation_place: 'i p z p',
    plw_expectation_use_names: 'i p p',
    plw_expect: 'i p p z p u p',
    plw_explain_expectation: 'i p i u p z p',
    plw_pattern_covers: 'i p z p z p p',
};

// The releases that this binding works with.
const MAJOR = 1;
const OLDEST = 10000;

/** Whatever the library refuses; `code` is the name of its status. */
export class PlatewrightError extends Error {
    constructor(message, code, status) {
        super(message);
        this.name = 'PlatewrightError';
        this.code = code;
        this.status = status;
    }
}

/** The library is missing or of another release. */
export function libraryError(message, cause) {
    const error = new PlatewrightError(message, 'PLATEWRIGHT_LIBRARY', null);
    error.cause = cause;
    return error;
}

const encoder = new TextEncoder();
export const decoder = new TextDecoder('utf-8', { ignoreBOM: true });

function encode(text, what) {
    if (typeof text !== 'string')
        throw new TypeError(`${what} is a string, not ${text === null ? 'null' : typeof text}`);
    return encoder.encode(text);
}

function pairs(parts) {
    return Symbol.iterator in parts ? [...parts] : Object.entries(parts);
}

// "a=1; b=2" from an object or from pairs; a string is taken as it is.
function joined(parts, refuse) {
    if (typeof parts === 'string')
        return parts;
    return pairs(parts).filter(([, value]) => value !== undefined && value !== null)
        .map(([key, value]) => {
            if (/[;\0]/.test(`${key}${value}`) || `${key}`.includes('='))
                refuse();
            return `${key}=${value}`;
        }).join('; ');
}

function closedError(what) {
    return new PlatewrightError(`these ${what} are closed`, 'PLATEWRIGHT_CLOSED', null);
}

// Memory of the library with an object in it, until it is closed.
class Held {
    #engine;
    #block;
    #address;
    #what;

    constructor(engine, block, address, what) {
        this.#engine = engine;
        this.#block = block;
        this.#address = address;
        this.#what = what;
    }

    get address() {
        if (this.#block === null)
            throw closedError(this.#what);
        return this.#address;
    }

    close() {
        if (this.#block !== null)
            this.#engine.release(this.#block);
        this.#block = null;
    }
}

/** Tables that were opened from an image; made by Platewright.tables. */
class Tables extends Held {}

/** A host's own words; made by Platewright.names. */
class Names extends Held {
    #tables;

    constructor(engine, block, address, tables, problems) {
        super(engine, block, address, 'names');
        this.#tables = tables;
        this.problems = problems;
    }

    get address() {
        return this.#tables && this.#tables.address === null ? null : super.address;
    }
}

if (Symbol.dispose)
    Held.prototype[Symbol.dispose] = Held.prototype.close;

export class Platewright {
    #engine;
    #cells;   // where the library writes single values
    #out;     // where it writes texts
    #result;
    #car;
    #expectation;
    #kept = []; // the memory of these
    #last;      // the options whose tables and names they point to
    #constants = {};

    constructor(engine) {
        this.#engine = engine;
        this.#checkVersion();
        for (let index = 0; index < engine.call('plw_constant_count'); index++) {
            this.#constants[engine.call('plw_constant_name', index)] =
                Number(engine.call('plw_constant_value', index));
        }
        Object.freeze(this.#constants);
        this.#cells = this.#block(64);
        this.#out = this.#block(1 << 16);
        this.#result = this.#object('plw_result');
        this.#car = this.#object('plw_car');
        this.#expectation = this.#object('plw_expectation');
    }

    #checkVersion() {
        let number;
        try {
            number = this.#engine.call('plw_version_number');
        } catch (cause) {
            throw libraryError('the library found is not platewright', cause);
        }
        if (Math.floor(number / 10000) !== MAJOR || number < OLDEST) {
            throw libraryError(`this binding needs platewright ${MAJOR}.x from number ${OLDEST} ` +
                `on; the library found has number ${number}`);
        }
    }

    // ---- What the rest is made of ------------------------------------------

    #fail(status) {
        const code = this.#engine.call('plw_status_name', status);
        throw new PlatewrightError(`${this.#engine.call('plw_status_text', status)} (${code})`,
            code, status);
    }

    #call(name, ...args) {
        const status = this.#engine.call(name, ...args);
        if (status !== 0)
            this.#fail(status);
    }

    #block(size) {
        const block = this.#engine.block(size);
        if (block === null)
            this.#fail(this.#constants.PLW_E_MEMORY);
        return block;
    }

    // A result, a car or an expectation, which stays as long as this.
    #object(kind) {
        const size = this.#engine.call(`${kind}_size`);
        const block = this.#block(size);
        this.#kept.push(block);
        this.#call(`${kind}_place`, block, size, this.#cells);
        return this.#address();
    }

    // What the library wrote to the first cell.
    #address() {
        return this.#engine.address(this.#engine.bytes(this.#cells), 0);
    }

    #text(name, ...args) {
        let size = this.#engine.bytes(this.#out).length;
        let status = this.#engine.call(name, ...args, this.#out, size, this.#cells);
        const needed = this.#engine.word(this.#engine.bytes(this.#cells), 0);
        if (status === this.#constants.PLW_E_SHORT) {
            const larger = this.#block(needed);
            this.#engine.release(this.#out);
            this.#out = larger;
            status = this.#engine.call(name, ...args, this.#out, needed, this.#cells);
        }
        if (status !== 0)
            this.#fail(status);
        return decoder.decode(this.#engine.bytes(this.#out).subarray(0, needed - 1));
    }

    #int32(block, index = 0) {
        const bytes = this.#engine.bytes(block);
        return new DataView(bytes.buffer, bytes.byteOffset).getInt32(index * 4, true);
    }

    // The name of a number: that of its constant, without the prefix.
    #nameOf(prefix, number) {
        const found = Object.keys(this.#constants)
            .find((name) => name.startsWith(prefix) && this.#constants[name] === number);
        return found.slice(prefix.length).toLowerCase().replaceAll('_', '-');
    }

    #format(format = 'text') {
        const number = this.#constants[`PLW_FORMAT_${String(format).toUpperCase()}`];
        if (number === undefined || format !== format.toLowerCase())
            throw new RangeError(`there is no format "${format}"`);
        return number;
    }

    // The kinds that the library names, "plw_place" or "plw_date_kind": number 1 first.
    #kinds(what) {
        const kinds = [];
        for (let number = 1; this.#engine.call(`${what}_name`, number) !== ''; number++) {
            kinds.push([this.#engine.call(`${what}_name`, number),
                this.#engine.call(`${what}_label`, number)]);
        }
        return kinds;
    }

    #kind(what, name) {
        const index = this.#kinds(what).findIndex(([each]) => each === name);
        if (index < 0)
            throw new RangeError(`there is no ${what.slice(4).replace('_', ' ')} "${name}"`);
        return index + 1;
    }

    #hints(hints) {
        if (hints === undefined || hints === null)
            return null;
        const refuse = () => this.#fail(this.#constants.PLW_E_HINT);
        const text = joined(hints, refuse);
        if (text.includes('\0'))
            refuse();
        return encoder.encode(`${text}\0`);
    }

    #claims(claims) {
        if (claims === undefined || claims === null)
            return new Uint8Array(0);
        return encoder.encode(joined(claims, () => this.#fail(this.#constants.PLW_E_CLAIM)));
    }

    #tables(tables) {
        return tables ? tables.address : null;
    }

    #names(names) {
        return names ? names.address : null;
    }

    #flags(options) {
        return options.sources ? this.#constants.PLW_EXPLAIN_SOURCES : 0;
    }

    // Fills the result; gives back the bytes of the number.
    #read(verb, number, options) {
        const text = encode(number, 'a number');
        const claims = this.#claims(options.claims);
        this.#last = options;
        this.#call('plw_result_use_names', this.#result, this.#names(options.names));
        this.#call(verb, this.#tables(options.tables), text, text.length,
            this.#hints(options.hints), 0, this.#result);
        this.#call('plw_check_claims', this.#result, claims, claims.length);
        return text;
    }

    #explain(format, options) {
        return this.#text('plw_explain', this.#result, format, this.#flags(options));
    }

    // The library counts bytes, a string is indexed by UTF-16 units.
    #spans(text) {
        const engine = this.#engine;
        const kept = Math.min(engine.call('plw_result_position_count', this.#result),
            this.#constants.PLW_MAX_POSITIONS);
        const second = this.#block(8);
        const spans = [];
        for (let position = 1; position <= kept; position++) {
            this.#call('plw_result_position', this.#result, position, this.#cells, second);
            const start = engine.word(engine.bytes(this.#cells), 0);
            const end = start + engine.word(engine.bytes(second), 0);
            spans.push([start, end].map((at) => decoder.decode(text.subarray(0, at)).length));
        }
        engine.release(second);
        return spans;
    }

    #answer(verb, number, options) {
        const text = this.#read(verb, number, options);
        const answer = JSON.parse(this.#explain(this.#constants.PLW_FORMAT_JSON, options));
        return { ...answer, spans: this.#spans(text) };
    }

    // ---- Numbers -------------------------------------------------------------

    decode(number, options = {}) {
        return this.#answer('plw_decode', number, options);
    }

    validate(number, options = {}) {
        return this.#answer('plw_validate', number, options);
    }

    suggest(number, options = {}) {
        return this.#answer('plw_suggest', number, options);
    }

    explain(number, options = {}) {
        const format = this.#format(options.format);
        this.#read(options.suggest ? 'plw_suggest' : 'plw_validate', number, options);
        return this.#explain(format, options);
    }

    grade(number, options = {}) {
        const text = encode(number, 'a number');
        this.#call('plw_grade', this.#tables(options.tables), text, text.length,
            this.#hints(options.hints), 0, this.#cells);
        return this.#engine.call('plw_grade_name', this.#int32(this.#cells));
    }

    batch(numbers, options = {}) {
        const texts = Array.from(numbers, (number) => encode(number, 'a number'));
        let length = 0;
        const ends = texts.map((text) => (length += text.length));
        const all = new Uint8Array(length + 1); // an empty array would be a NULL
        texts.forEach((text, index) => all.set(text, ends[index] - text.length));
        const columns = this.#constants.PLW_BATCH_COLUMNS;
        const rows = this.#block(Math.max(texts.length, 1) * columns * 4);
        try {
            this.#call('plw_batch', this.#tables(options.tables), all, this.#engine.words(ends),
                texts.length, this.#hints(options.hints), 0, rows);
            return texts.map((_, index) => this.#batchRow(options, (name) =>
                this.#int32(rows, index * columns + this.#constants[`PLW_BATCH_${name}`])));
        } finally {
            this.#engine.release(rows);
        }
    }

    #batchRow(options, value) {
        const engine = this.#engine;
        if (value('STATUS') !== 0)
            return { error: engine.call('plw_status_name', value('STATUS')) };
        const finding = value('FINDING');
        const scheme = value('SCHEME');
        return {
            error: null,
            grade: engine.call('plw_grade_name', value('GRADE')),
            finding: finding === 0 ? null : this.#nameOf('PLW_FINDING_', finding),
            scheme: scheme < 0 ? null
                : engine.call('plw_scheme_key', this.#tables(options.tables), scheme),
            first_year: value('FIRST_YEAR') || null,
            last_year: value('LAST_YEAR') || null,
            readings: value('READINGS'),
            findings: value('FINDINGS'),
        };
    }

    prefix(beginning, options = {}) {
        const engine = this.#engine;
        const result = this.#result;
        const tables = this.#tables(options.tables);
        const text = encode(beginning, 'the beginning of a number');
        this.#call('plw_prefix', tables, text, text.length, 0, result);
        const count = engine.call('plw_prefix_scheme_count', result);
        return {
            state: this.#nameOf('PLW_PREFIX_', engine.call('plw_prefix_state', result)),
            schemes: Array.from({ length: count }, (_, index) =>
                engine.call('plw_scheme_key', tables,
                    engine.call('plw_prefix_scheme', result, index))),
            allowed: this.#text('plw_prefix_allowed', result),
            known: this.#text('plw_prefix_known', result),
            remaining_min: engine.call('plw_prefix_remaining_min', result),
            remaining_max: engine.call('plw_prefix_remaining_max', result),
            spans: this.#spans(text),
        };
    }

    // ---- Cars ------------------------------------------------------------------

    #compare(plates, options) {
        const car = this.#car;
        const claims = this.#claims(options.claims);
        this.#last = options;
        this.#engine.call('plw_car_clear', car);
        this.#call('plw_car_use_names', car, this.#names(options.names));
        for (const [place, number] of pairs(plates)) {
            const text = encode(number, 'the number of a plate');
            this.#call('plw_car_add_plate', car, this.#kind('plw_place', place), text,
                text.length);
        }
        for (const [kind, date] of pairs(options.dates ?? [])) {
            const text = encode(date, 'a date');
            this.#call('plw_car_add_date', car, this.#kind('plw_date_kind', kind), text,
                text.length);
        }
        this.#call('plw_compare', this.#tables(options.tables), car, this.#hints(options.hints), 0);
        this.#call('plw_car_check_claims', car, claims, claims.length);
    }

    compare(plates, options = {}) {
        this.#compare(plates, options);
        return JSON.parse(this.#text('plw_explain_car', this.#car,
            this.#constants.PLW_FORMAT_JSON, this.#flags(options)));
    }

    explainCar(plates, options = {}) {
        const format = this.#format(options.format);
        this.#compare(plates, options);
        return this.#text('plw_explain_car', this.#car, format, this.#flags(options));
    }

    get places() {
        return Object.fromEntries(this.#kinds('plw_place'));
    }

    get dateKinds() {
        return Object.fromEntries(this.#kinds('plw_date_kind'));
    }

    // ---- From claims to numbers --------------------------------------------------

    #expect(claims, options) {
        const expectation = this.#expectation;
        const text = this.#claims(claims);
        this.#last = options;
        this.#call('plw_expectation_use_names', expectation, this.#names(options.names));
        this.#call('plw_expect', this.#tables(options.tables), text, text.length,
            this.#hints(options.hints), 0, expectation);
    }

    expect(claims, options = {}) {
        this.#expect(claims, options);
        return JSON.parse(this.#text('plw_explain_expectation', this.#expectation,
            this.#constants.PLW_FORMAT_JSON, this.#flags(options)));
    }

    explainExpectation(claims, options = {}) {
        const format = this.#format(options.format);
        this.#expect(claims, options);
        return this.#text('plw_explain_expectation', this.#expectation, format,
            this.#flags(options));
    }

    covers(pattern, number) {
        const texts = [encode(pattern, 'a pattern'), encode(number, 'a number')];
        const second = this.#block(8);
        try {
            this.#call('plw_pattern_covers', ...texts.flatMap((text) => [text, text.length]),
                this.#cells, second);
            const { PLW_COVERED, PLW_COVERED_OPEN } = this.#constants;
            const covered = this.#int32(this.#cells);
            return {
                covered: covered === PLW_COVERED_OPEN ? null : covered === PLW_COVERED,
                position: this.#int32(second) || null,
            };
        } finally {
            this.#engine.release(second);
        }
    }

    // ---- Tables and names ------------------------------------------------------

    tables(image) {
        if (!ArrayBuffer.isView(image))
            throw new TypeError('an image of tables is a Uint8Array or another view of bytes');
        const bytes = new Uint8Array(image.buffer, image.byteOffset, image.byteLength);
        const block = this.#block(Math.max(bytes.length, 1));
        this.#engine.bytes(block).set(bytes);
        const status = this.#engine.call('plw_tables_open', block, bytes.length, 0, this.#cells);
        if (status !== 0) {
            this.#engine.release(block);
            this.#fail(status);
        }
        return new Tables(this.#engine, block, this.#address(), 'tables');
    }

    names(text, options = {}) {
        const bytes = encode(text, 'a names text');
        const tables = this.#tables(options.tables);
        const size = this.#engine.call('plw_names_size', bytes, bytes.length);
        const block = this.#block(Math.max(size, 8));
        const status = this.#engine.call('plw_names_place', tables, bytes, bytes.length, block,
            size, this.#cells);
        if (status !== 0) {
            this.#engine.release(block);
            this.#fail(status);
        }
        const address = this.#address();
        return new Names(this.#engine, block, address, options.tables, this.#problems(address));
    }

    #problems(names) {
        const count = this.#engine.call('plw_names_problem_count', names);
        return Array.from({ length: count }, (_, index) => ({
            line: this.#engine.call('plw_names_problem_line', names, index),
            sentence: this.#text('plw_names_problem_text', names, index),
        }));
    }

    edition(tables) {
        return this.#engine.call('plw_tables_edition', this.#tables(tables));
    }

    digest(tables) {
        return this.#text('plw_tables_digest', this.#tables(tables));
    }

    schemes(tables) {
        const engine = this.#engine;
        const handle = this.#tables(tables);
        return Array.from({ length: engine.call('plw_scheme_count', handle) }, (_, scheme) => ({
            key: engine.call('plw_scheme_key', handle, scheme),
            title: engine.call('plw_scheme_title', handle, scheme),
            first_year: engine.call('plw_scheme_first_year', handle, scheme),
            last_year: engine.call('plw_scheme_last_year', handle, scheme),
            rows: engine.call('plw_scheme_row_count', handle, scheme),
            layouts: Array.from({ length: engine.call('plw_layout_count', handle, scheme) },
                (__, layout) => ({
                    length: engine.call('plw_layout_length', handle, scheme, layout),
                    sample: engine.call('plw_layout_sample', handle, scheme, layout),
                })),
        }));
    }

    // ---- The library itself ------------------------------------------------------

    get version() {
        return this.#engine.call('plw_version_text');
    }

    /** Every constant of the header by its name. */
    get constants() {
        return this.#constants;
    }
}
