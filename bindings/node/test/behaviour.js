// SPDX-License-Identifier: MIT
//
// What the binding does, whatever engine it runs on. `image` holds the invented
// Wexcombe Motor Works of Port Ellery, `examples` the folder of published numbers.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { describe, test } from 'node:test';

const HOSTILE = [
    '', ' ', '\0', '3Y86N\x00400001', '<script>alert(1)</script>', '"\'&;`$(x)', '\u{1F697}',
    '\uD800', '\uFEFF3Y86N400001', '\u202E100004N68Y3', '[[[', '[8B', '???????????', 'Ａ'.repeat(30),
];

function refused(code) {
    return (error) => {
        assert.equal(error.name, 'PlatewrightError');
        assert.equal(error.code, code);
        assert.ok(error.message.length > 10);
        return true;
    };
}

export function behaviour(title, platewright, { image, names, examples }) {
    const tables = platewright.tables(image);
    const wexcombe = { tables };

    describe(`${title}: numbers`, () => {
        test('validate gives readings, findings and spans of the string', () => {
            const answer = platewright.validate(' s31k5-n5OO125 ', wexcombe);
            assert.equal(answer.number, 'S31K5N5OO125');
            assert.equal(answer.grade, 'doubt');
            assert.equal(answer.readings[0].scheme, 'port-ellery-1962');
            assert.equal(answer.readings[0].number, 'S31K5N500125');
            assert.deepEqual(answer.readings[0].years, [1965]);
            assert.deepEqual(answer.findings.map((finding) => finding.code),
                ['misread', 'misread', 'not-built']);
            assert.deepEqual(answer.spans.at(0), [1, 2]);
            assert.deepEqual(answer.spans.at(-1), [13, 14]);
            assert.equal(answer.tables.digest, platewright.digest(tables));
            assert.equal(answer.cautions.length, 3);
        });

        test('decode has no findings', () => {
            const answer = platewright.decode('S31K5N5OO125', wexcombe);
            assert.equal(answer.readings.length, 1);
            assert.deepEqual(answer.findings, []);
        });

        test('spans count the units of a string', () => {
            const text = '\uFEFF\u{1F697}T２4';
            const { number, spans } = platewright.validate(text, wexcombe);
            const read = spans.map(([start, end]) => text.slice(start, end));
            assert.equal(read.slice(-3).join(''), 'T２4');
            assert.ok(number.endsWith('T24'));
        });

        test('suggest finds what was misread', () => {
            const answer = platewright.suggest('XTB3O12345', wexcombe);
            assert.equal(answer.number, 'XTB3O12345');
            assert.ok(Array.isArray(answer.suggestions));
            assert.equal(typeof answer.suggestions_left_out, 'number');
            const other = platewright.suggest('S2BR6N500123', wexcombe);
            assert.deepEqual(other.suggestions[0].changes[0],
                { position: 3, typed: 'B', meant: '3' });
        });

        test('hints rank readings', () => {
            const years = (hints) =>
                platewright.decode('T24K3P100051', { tables, hints }).readings
                    .map((reading) => reading.years[0]);
            assert.deepEqual(years(undefined), [1963, 1973]);
            assert.deepEqual(years({ year: 1973 }), [1973, 1963]);
            assert.deepEqual(years('year=1973; scheme=port-ellery-1962'), [1973, 1963]);
        });

        test('claims are held against the number, from an object, pairs or a text', () => {
            for (const claims of [
                { year: 1966, engine: '212 cu in', plant: 'Port Ellery', body: undefined },
                [['year', 1966], ['engine', '212 cu in'], ['plant', 'Port Ellery']],
                'year=1966; engine=212 cu in; plant=Port Ellery',
            ]) {
                const answer = platewright.validate('S23R6N500123', { tables, claims });
                assert.deepEqual(answer.claims.map((claim) => claim.verdict),
                    ['supported', 'supported', 'contradicted']);
            }
            assert.equal(platewright.validate('S23R6N500123', wexcombe).claims, undefined);
        });

        test('explain writes every format', () => {
            const options = { tables, sources: true, claims: { year: 1966 } };
            const write = (format) =>
                platewright.explain('S23R6N500123', { ...options, format });
            assert.match(platewright.explain('S23R6N500123', options), /Shrike/);
            assert.match(write('text'), /Parts List|parts-66/i);
            assert.match(write('markdown'), /^#/);
            assert.equal(JSON.parse(write('json')).number, 'S23R6N500123');
            assert.match(write('svg'), /^<svg /);
            assert.match(write('html'), /^<!DOCTYPE html>/);
            for (const format of ['pdf', 'SVG', '', null])
                assert.throws(() => write(format), RangeError);
        });

        test('an explanation longer than the first buffer comes whole', () => {
            const json = platewright.explain('?'.repeat(17), { format: 'json', sources: true });
            assert.ok(json.length > 1 << 16, `${json.length} characters`);
            assert.equal(JSON.parse(json).positions, 17);
        });

        test('grade and batch agree with validate', () => {
            const numbers = ['S23R6N500123', 'S31K5N5OO125', 'XTA4012345', '', 'é', 'T24K3P100051'];
            const rows = platewright.batch(numbers, wexcombe);
            assert.equal(rows.length, numbers.length);
            numbers.forEach((number, index) => {
                const answer = platewright.validate(number, wexcombe);
                assert.equal(rows[index].grade, answer.grade);
                assert.equal(platewright.grade(number, wexcombe), answer.grade);
                assert.equal(rows[index].error, null);
                assert.equal(rows[index].finding, answer.findings[0]?.code ?? null);
                assert.equal(rows[index].scheme, answer.readings[0]?.scheme ?? null);
                assert.equal(rows[index].first_year, answer.readings[0]?.years[0] ?? null);
                assert.equal(rows[index].readings, answer.readings.length);
                assert.equal(rows[index].findings, answer.findings.length);
            });
            assert.deepEqual(platewright.batch([]), []);
            const long = 'T'.repeat(platewright.constants.PLW_MAX_TEXT + 1);
            assert.deepEqual(platewright.batch([long, ...numbers])[0], { error: 'PLW_E_TOO_LONG' });
        });

        test('every finding has the name in a batch that it has elsewhere', () => {
            const seen = new Set();
            for (const number of ['', 'T24', 'T24K', 'S31K5N5OO125', 'S23?6N500123', 'T99K3P100051',
                'XTA4012345', 'ETA4012345', 'T24K4P099999', 'T24W2P100777', 'V31M6P100300',
                'H24R9P101200', 'T27K4P100001', 'T24R9P100001']) {
                const [row] = platewright.batch([number], wexcombe);
                const [first] = platewright.validate(number, wexcombe).findings;
                assert.equal(row.finding, first?.code ?? null);
                seen.add(row.finding);
            }
            assert.ok(seen.size > 6);
        });

        test('prefix judges the beginning', () => {
            const open = platewright.prefix('s23', wexcombe);
            assert.equal(open.state, 'open');
            assert.deepEqual(open.schemes, ['port-ellery-1962']);
            assert.equal(open.known, 'KMRWZ');
            assert.ok(open.allowed.includes('A') && !open.allowed.includes('I'));
            assert.deepEqual([open.remaining_min, open.remaining_max], [9, 9]);
            assert.deepEqual(open.spans.at(-1), [2, 3]);
            assert.equal(platewright.prefix('S23R6N500123', wexcombe).state, 'complete');
            assert.equal(platewright.prefix('9'.repeat(20), wexcombe).state, 'impossible');
        });

        test('published numbers read as published', () => {
            let tried = 0;
            for (const file of ['dearborn', 'highland-park', 'detroit', 'iso3779']) {
                const lines = readFileSync(`${examples}/${file}.tsv`, 'utf8').split('\n');
                for (const line of lines) {
                    const [number, scheme, years] = line.split('\t');
                    if (line.startsWith('#') || !/^[a-z]/.test(scheme) || !/^[0-9]/.test(years) ||
                        scheme === 'none' || number.startsWith('stamp:'))
                        continue;
                    const read = platewright.validate(number).readings
                        .filter((reading) => reading.scheme === scheme)
                        .flatMap((reading) => reading.years);
                    assert.deepEqual([...new Set(read)].sort().join(), years, number);
                    tried++;
                }
            }
            assert.ok(tried > 20, `${tried} numbers`);
        });
    });

    describe(`${title}: cars`, () => {
        test('compare holds plates against each other', () => {
            const car = platewright.compare({ dash: 'S23R6N500123', engine: '6N500124' },
                { ...wexcombe, sources: true });
            assert.equal(car.verdict, 'differs');
            assert.deepEqual(car.plates[0].differs_from, [{ plate: 1, positions: [12] }]);
            assert.equal(car.joined[0].number, 'S23R6N50012[34]');
            assert.ok(car.sources.length > 0);
        });

        test('a place can be given twice, in pairs', () => {
            const car = platewright.compare([['engine', '6N500123'], ['engine', '6N500123']],
                wexcombe);
            assert.equal(car.verdict, 'agrees');
            assert.equal(car.plates.length, 2);
        });

        test('explainCar writes it out', () => {
            const text = platewright.explainCar({ dash: 'S23R6N500123', engine: '6N500124' },
                wexcombe);
            assert.match(text, /dash plate/);
            assert.match(platewright.explainCar({ dash: 'S23R6N500123' },
                { ...wexcombe, format: 'markdown' }), /^#/);
        });

        test('dates and claims are held against the car', () => {
            const options = {
                dates: [['casting', '9A15'], ['casting', 'no date']],
                claims: { year: 1969, body: 'wagon' },
            };
            const car = platewright.compare({ dash: '9F94H575103' }, options);
            assert.deepEqual(car.dates.map((date) => date.kind), ['casting', 'casting']);
            assert.equal(car.dates[0].verdict, 'fits');
            assert.equal(car.dates[1].reason, 'not-understood');
            assert.deepEqual(car.claims.map((claim) => claim.verdict),
                ['supported', 'contradicted']);
            assert.match(platewright.explainCar({ dash: '9F94H575103' },
                { ...options, format: 'html' }), /^<!DOCTYPE html>[^]*wagon/);
            assert.deepEqual(platewright.compare({ dash: '9F94H575103' }).dates, []);
            assert.throws(() => platewright.compare({}, { dates: { forging: '9A15' } }),
                RangeError);
            assert.throws(() => platewright.compare({}, { dates: { casting: 9 } }), TypeError);
            assert.throws(() => platewright.compare({}, { dates: { casting: '9'.repeat(65) } }),
                refused('PLW_E_TOO_LONG'));
            assert.throws(() => platewright.compare({}, { claims: 'nonsense' }),
                refused('PLW_E_CLAIM'));
            assert.equal(platewright.dateKinds.casting.length > 0, true);
        });

        test('places are those of the library', () => {
            assert.equal(platewright.places.dash, 'dash plate');
            for (const place of Object.keys(platewright.places))
                assert.equal(platewright.compare({ [place]: '6N500123' }).plates[0].place, place);
            assert.throws(() => platewright.compare({ roof: '6N500123' }), RangeError);
        });
    });

    describe(`${title}: from claims to numbers`, () => {
        const claims = { year: 1966, line: 'Shrike', engine: '212 cu in' };

        test('expect gives patterns, which decode takes', () => {
            const { patterns, ...expectation } = platewright.expect(claims,
                { ...wexcombe, sources: true });
            assert.deepEqual(expectation.claims.map((claim) => claim.text),
                ['year=1966', 'line=Shrike', 'engine=212 cu in']);
            assert.ok(expectation.claims.every((claim) => claim.understood));
            assert.ok(expectation.sources.length > 0);
            assert.deepEqual(patterns[0].tells, [0, 1, 2]);
            assert.match(patterns[0].pattern, /^S..?.*R6/);
            assert.deepEqual(platewright.decode(patterns[0].pattern, wexcombe).readings[0].years,
                [1966]);
            assert.deepEqual(platewright.covers(patterns[0].pattern, 'S23R6N500123'),
                { covered: true, position: null });
            assert.deepEqual(platewright.covers(patterns[0].pattern, 'S23R7N500123'),
                { covered: false, position: 5 });
            assert.deepEqual(platewright.covers(patterns[0].pattern, 'S23?6N500123'),
                { covered: null, position: 4 });
        });

        test('claims that rule everything out are named', () => {
            const expectation = platewright.expect({ year: 1962, line: 'Shrike' }, wexcombe);
            assert.deepEqual(expectation.patterns, []);
            assert.ok(expectation.claims.every((claim) => claim.rules_out && claim.left_without));
            assert.match(expectation.summary, /year=1962.*line=Shrike/);
            assert.deepEqual(platewright.expect('colour=red', wexcombe).claims[0].understood,
                false);
        });

        test('explainExpectation writes it out', () => {
            const words = platewright.names(names, wexcombe);
            assert.match(platewright.explainExpectation(claims, wexcombe), /R6/);
            assert.match(platewright.explainExpectation(claims,
                { tables, names: words, format: 'markdown' }),
            /^#[^]*Wexcombe of Port Ellery, first numbering/);
            assert.throws(() => platewright.explainExpectation(claims, { format: 'svg' }),
                refused('PLW_E_FLAGS'));
        });

        test('what cannot be taken is refused', () => {
            assert.throws(() => platewright.expect('nonsense'), refused('PLW_E_CLAIM'));
            assert.throws(() => platewright.expect(claims, { hints: 'nonsense' }),
                refused('PLW_E_HINT'));
            assert.throws(() => platewright.covers('?'.repeat(300), 'T24'),
                refused('PLW_E_TOO_LONG'));
            assert.throws(() => platewright.covers('???', 24), TypeError);
        });
    });

    describe(`${title}: tables and names`, () => {
        test('tables tell what they cover', () => {
            assert.deepEqual(platewright.schemes(tables).map((scheme) => scheme.key),
                ['port-ellery-1962', 'port-ellery-1976']);
            assert.deepEqual(platewright.schemes(tables)[1].layouts,
                [{ length: 10, sample: 'XTA3012345' }]);
            assert.ok(platewright.schemes().length > 20);
            assert.match(platewright.edition(), /^\d{4}-\d\d-\d\d$/);
            assert.match(platewright.digest(tables), /^[0-9a-f]{16}$/);
            assert.notEqual(platewright.digest(tables), platewright.digest());
        });

        test('an image is copied, and refused when it is damaged', () => {
            const bytes = new Uint8Array(image);
            const copy = platewright.tables(bytes.subarray(0));
            bytes.fill(0);
            assert.equal(platewright.digest(copy), platewright.digest(tables));
            const shifted = new Uint8Array(image.length + 3);
            shifted.set(image, 3);
            assert.equal(platewright.digest(platewright.tables(shifted.subarray(3))),
                platewright.digest(tables));
            for (const bad of [bytes, new Uint8Array(0), image.subarray(0, 5000)])
                assert.throws(() => platewright.tables(bad), refused('PLW_E_IMAGE'));
            assert.throws(() => platewright.tables('tables.image'), TypeError);
        });

        test('names put other words in', () => {
            const words = platewright.names(names, wexcombe);
            assert.deepEqual(words.problems, []);
            const { readings } = platewright.validate('S23R6N500123', { tables, names: words });
            const meaning = (field) =>
                readings[0].fields.find((each) => each.field === field).meanings[0].words;
            assert.equal(meaning('line'), 'Wexcombe Shrike');
            assert.equal(meaning('body'), 'Hardtop “Sealine”');
            assert.match(platewright.explainCar({ dash: 'S23R6N500123', engine: '6N500123' },
                { tables, names: words }), /Wexcombe of Port Ellery, first numbering/);
            const plain = platewright.explain('S23R6N500123', wexcombe);
            assert.doesNotMatch(plain, /Wexcombe Shrike/);
        });

        test('names say which lines do not count', () => {
            const { problems } = platewright.names('field/body = x\nno sense\nfield/odd = y\n',
                wexcombe);
            assert.deepEqual(problems.map((problem) => problem.line), [2, 3]);
            assert.ok(problems.every((problem) => problem.sentence.length > 10));
            const { PLW_MAX_NAMES } = platewright.constants;
            assert.throws(() => platewright.names('#'.repeat(PLW_MAX_NAMES + 1)),
                refused('PLW_E_TOO_LONG'));
        });

        test('what is closed throws', () => {
            const mine = platewright.tables(image);
            const words = platewright.names(names, { tables: mine });
            const other = platewright.names(names, { tables: mine });
            words.close();
            words.close();
            assert.throws(() => platewright.validate('T24', { tables: mine, names: words }),
                refused('PLATEWRIGHT_CLOSED'));
            mine.close();
            for (const call of ['validate', 'decode', 'suggest', 'explain', 'grade', 'prefix'])
                assert.throws(() => platewright[call]('T24', { tables: mine }),
                    refused('PLATEWRIGHT_CLOSED'));
            assert.throws(() => platewright.digest(mine), refused('PLATEWRIGHT_CLOSED'));
            assert.throws(() => platewright.validate('T24', { names: other }),
                refused('PLATEWRIGHT_CLOSED'));
        });

        test('tables and names that are closed do not pile up', () => {
            const text = '#'.repeat(platewright.constants.PLW_MAX_NAMES);
            for (let round = 0; round < 200; round++)
                platewright.names(text).close();
            for (let round = 0; round < 20000; round++)
                platewright.tables(image).close();
            assert.equal(platewright.grade('S23R6N500123', wexcombe), 'clear');
        });
    });

    describe(`${title}: errors`, () => {
        test('what the library refuses has the name of its status', () => {
            const long = 'T'.repeat(platewright.constants.PLW_MAX_TEXT + 1);
            for (const call of ['validate', 'decode', 'suggest', 'explain', 'grade', 'prefix'])
                assert.throws(() => platewright[call](long), refused('PLW_E_TOO_LONG'));
            assert.throws(() => platewright.compare({ dash: long }), refused('PLW_E_TOO_LONG'));
            assert.throws(() => platewright.compare(Array(17).fill(['dash', 'T24'])),
                refused('PLW_E_TOO_LONG'));
            for (const hints of ['nonsense', 'year=old', { year: '1966;' }, { maker: 'a\0b' },
                'maker=a\0b'])
                assert.throws(() => platewright.validate('T24', { hints }), refused('PLW_E_HINT'));
            for (const claims of ['nonsense', { year: '1966; body=x' }, { 'a=b': 'c' },
                { a: 'b\0' }])
                assert.throws(() => platewright.validate('T24', { claims }),
                    refused('PLW_E_CLAIM'));
            assert.throws(() => platewright.validate('T24', { claims: { body: 'x'.repeat(1025) } }),
                refused('PLW_E_TOO_LONG'));
        });

        test('what is no string is a TypeError', () => {
            for (const wrong of [undefined, null, 12, {}, new Uint8Array(3)]) {
                for (const call of ['validate', 'decode', 'suggest', 'explain', 'grade', 'prefix'])
                    assert.throws(() => platewright[call](wrong), TypeError);
                assert.throws(() => platewright.batch([wrong]), TypeError);
                assert.throws(() => platewright.compare({ dash: wrong }), TypeError);
                assert.throws(() => platewright.names(wrong), TypeError);
            }
        });

        test('hostile texts come back as findings, whole', () => {
            for (const text of HOSTILE) {
                const answer = platewright.validate(text, wexcombe);
                assert.equal(platewright.grade(text, wexcombe), answer.grade);
                platewright.prefix(text, wexcombe);
                assert.doesNotMatch(platewright.explain(text, { tables, format: 'svg' }),
                    /<script|<foreignObject| on[a-z]+=/i);
            }
        });
    });

    describe(`${title}: constants`, () => {
        test('are those of the library', () => {
            assert.equal(platewright.constants.PLW_OK, 0);
            assert.equal(platewright.constants.PLW_NONE, 0xFFFFFFFF);
            assert.equal(platewright.constants.PLW_E_SHORT, -5);
            assert.ok(Object.isFrozen(platewright.constants));
            assert.match(platewright.version, /^\d+\.\d+\.\d+$/);
        });
    });
}
