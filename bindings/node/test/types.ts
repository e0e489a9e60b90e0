// SPDX-License-Identifier: MIT
//
// Compiled by tsc, never run: the types fit what people write, and refuse what is wrong.

import platewright, { PlatewrightError } from 'platewright';
import type { Comparison, Explanation, Grade, Tables } from 'platewright';

const tables: Tables = platewright.tables(new Uint8Array(8));
const answer: Explanation = platewright.validate('3Y86N400001', {
    tables,
    hints: { maker: 'Lincoln', year: 1963 },
    names: platewright.names('field/body = coachwork', { tables }),
    claims: new Map([['year', 1963]]),
    sources: true,
});
const words: string[] = answer.readings.flatMap((reading) =>
    reading.fields.flatMap((field) => field.meanings.map((meaning) => meaning.words)));
const first: [number, number] | undefined = answer.spans[0];
const grade: Grade = platewright.grade(words.join());
const car: Comparison = platewright.compare([['dash', '3Y86N400001'], ['dash', '3Y86N400001']]);
const page: string = platewright.explainCar({ dash: '3Y86N400001' }, { format: 'markdown' });

const expected: string | undefined = platewright.expect({ year: 1963 }).patterns[0]?.pattern;
const covered: boolean | null = platewright.covers(expected ?? '', '3Y86N400001').covered;

for (const row of platewright.batch(new Set(['3Y86N400001']))) {
    if (row.error === null)
        console.log(row.grade, row.first_year, grade, car.summary, page, first, covered);
    // @ts-expect-error: a row with an error has no grade
    else console.log(row.grade);
}

// @ts-expect-error: a number is a string
platewright.validate(3);
// @ts-expect-error: there is no such format
platewright.explain('3Y86N400001', { format: 'pdf' });
// @ts-expect-error: tables are no names
platewright.validate('3Y86N400001', { names: 'tables' });
// @ts-expect-error: answers have no such part
console.log(answer.verdict);

try {
    tables.close();
} catch (error) {
    if (error instanceof PlatewrightError)
        console.log(error.code.toLowerCase(), error.status);
}
