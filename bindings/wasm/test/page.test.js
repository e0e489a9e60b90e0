// SPDX-License-Identifier: MIT
//
// The page in Chromium. run_tests.sh names page, browser and fixtures in the environment.

import assert from 'node:assert/strict';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, describe, test } from 'node:test';
import { pathToFileURL } from 'node:url';

import { chromium } from 'playwright-core';

import { load } from '../platewright.js';

const { CHROMIUM, MODULE, PAGE, PORT_ELLERY_IMAGE, PORT_ELLERY_NAMES } = process.env;
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const HOSTILE = [
    '<img src=x onerror=alert(1)>', '"><script>alert(1)</script>', '</title></svg><b onclick=x>',
    "'; alert(1); '", '&lt;b&gt;', '<main>', '${alert(1)}', '{{7*7}}', '\u202E<i>', '?'.repeat(400),
];

const folder = mkdtempSync(join(tmpdir(), 'platewright-'));
let browser;

before(async () => {
    browser = await chromium.launch({
        executablePath: CHROMIUM,
        args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
            '--disable-background-networking', '--disable-component-update', '--disable-sync'],
    });
});

after(async () => {
    await browser.close();
    rmSync(folder, { recursive: true });
});

// Opens files, one after the other, lets the test use each, and tolerates no message, no
// error, no dialog and no request but those for the files.
async function using(files, settings, work) {
    const context = await browser.newContext(
        { viewport: { width: 1200, height: 900 }, ...settings });
    const page = await context.newPage();
    const addresses = files.map((file) => pathToFileURL(file).href);
    const trouble = [];
    page.on('console', (message) => trouble.push(`console: ${message.text()}`));
    page.on('pageerror', (error) => trouble.push(`error: ${error.message}`));
    page.on('dialog', (dialog) => {
        trouble.push(`dialog: ${dialog.message()}`);
        dialog.dismiss();
    });
    context.on('request', (request) => {
        if (!addresses.includes(request.url()))
            trouble.push(`request: ${request.url()}`);
    });
    try {
        for (const address of addresses) {
            await page.goto(address);
            await work(page);
        }
        assert.deepEqual(trouble, []);
    } finally {
        await context.close();
    }
}

const onPage = (settings, work) => using([PAGE], settings, async (page) => {
    await page.waitForSelector('#book:not([hidden])');
    await work(page);
});

const text = (page, selector) => page.locator(selector).innerText();

async function addPlate(page, place, number) {
    await page.click('#add-plate');
    await page.keyboard.type(number);
    await page.locator('#plates .line:last-child select').selectOption(place);
}

async function fillAll(page) {
    await page.fill('#number', '9F94H575103');
    await addPlate(page, 'engine', '9F575104');
    await page.click('#add-date');
    await page.keyboard.type('9A15');
    await page.fill('#claims', 'year = 1969\nengine = 428\nplant = Dearborn\ncolour = red');
}

describe('typing', () => {
    test('every key stroke is judged', () => onPage({}, async (page) => {
        const said = [];
        await page.focus('#number');
        for (const key of '9F94H575103') {
            await page.keyboard.type(key);
            said.push(await text(page, '#judgement'));
        }
        assert.match(said[0], /^Possible so far: \d+ to \d+ more characters to come\.$/);
        assert.match(said[10], /^Complete/);
        assert.equal(await page.locator('#strip li').count(), 11);
        assert.match(await text(page, '#grade'), /clear.*1969/);
        assert.match(await text(page, '#drawing'), /Cougar/);
        assert.match(await text(page, '#explanation'), /Cougar/);
        await page.keyboard.press('Backspace');
        assert.match(await text(page, '#judgement'), /1 more character|1 to /);
    }));

    test('where it stops is said at the character', () => onPage({}, async (page) => {
        await page.setInputFiles('#tables-file', PORT_ELLERY_IMAGE);
        await page.waitForFunction(() =>
            document.getElementById('tables-are').textContent.startsWith('Your own tables'));
        await page.fill('#number', 'S2BR');
        assert.match(await text(page, '#judgement'), /^Possible so far/); // B may be an 8
        await page.fill('#number', 'S2%4');
        assert.equal(await text(page, '#judgement'), 'No number in the tables begins so.');
        const platewright = await load(readFileSync(MODULE));
        const tables = platewright.tables(readFileSync(PORT_ELLERY_IMAGE));
        const stops = [1, 2, 3, 4].findIndex((length) =>
            platewright.prefix('S2%4'.slice(0, length), { tables }).state === 'impossible');
        assert.match(await page.locator('#strip li').nth(stops).textContent(),
            /no number goes on like this/);
        assert.equal(await page.locator('#strip .impossible').count(), 1);
        await page.fill('#number', 'S23');
        assert.match(await text(page, '#next'), /KMRWZ/);
        assert.equal(await page.locator('#reading').isVisible(), false);
    }));

    test('findings are told with their grade in words, and suggestions can be tried',
        () => onPage({}, async (page) => {
            await page.setInputFiles('#tables-file', PORT_ELLERY_IMAGE);
            await page.waitForSelector('#built-in:not([hidden])');
            await page.fill('#number', 'S2BR6N500123');
            assert.match(await text(page, '#findings'), /doubt[^]*Position 3 shows B/);
            assert.match(await page.locator('#strip li').nth(2).textContent(), /doubt: /);
            await page.getByRole('button', { name: 'Try S23R6N500123' }).click();
            assert.equal(await page.inputValue('#number'), 'S23R6N500123');
            assert.match(await text(page, '#grade'), /1966/);
        }));

    test('pasting and the samples work as typing does', () => onPage({}, async (page) => {
        await page.focus('#number');
        await page.evaluate(() => document.execCommand('insertText', false, ' 3Y86-N 400001 '));
        assert.match(await text(page, '#grade'), /1963/);
        await page.selectOption('#sample', { index: 1 });
        assert.notEqual(await page.inputValue('#number'), '');
        assert.equal(await page.locator('#reading').isVisible(), true);
    }));
});

describe('the car', () => {
    test('plates, dates and claims are held against the number', () => onPage({}, async (page) => {
        await fillAll(page);
        assert.match(await text(page, '#claims-answer'),
            /supported[^]*year=1969[^]*contradicted[^]*engine=428[^]*not told[^]*colour/);
        assert.match(await text(page, '#car-explanation'), /engine stamp[^]*dash plate/);
        assert.match(await text(page, '#car-verdict'), /differ/);
        assert.match(await text(page, '#car-explanation'), /9A15|9A 15|9A-15/);
        await page.selectOption('#where', 'door_label');
        assert.match(await text(page, '#car-explanation'), /door plate/);
        await page.getByRole('button', { name: 'Remove Plate 1' }).click();
        await page.getByRole('button', { name: 'Remove Date 1' }).click();
        assert.equal(await page.locator('#car').isVisible(), false);
    }));

    test('claims that cannot be read are said to be so, and nothing else stops',
        () => onPage({}, async (page) => {
            await page.fill('#number', '9F94H575103');
            await page.fill('#claims', 'a red one');
            assert.match(await text(page, '#claims-trouble'), /PLW_E_CLAIM/);
            assert.match(await text(page, '#explanation'), /Cougar/);
            await page.fill('#claims', 'year=1969');
            assert.equal(await page.locator('#claims-trouble').isVisible(), false);
        }));
});

describe('a private register', () => {
    test('opens from a file, with names, and goes again', () => onPage({}, async (page) => {
        const seen = async () =>
            (await page.locator('#reading:visible').allInnerTexts()).join('\n');
        await page.fill('#number', 'S23R6N500123');
        assert.doesNotMatch(await seen(), /Shrike/);
        await page.setInputFiles('#tables-file', PORT_ELLERY_IMAGE);
        await page.waitForFunction(() =>
            document.getElementById('explanation').textContent.includes('Shrike, sporting line'));
        await page.setInputFiles('#names-file', PORT_ELLERY_NAMES);
        await page.waitForFunction(() =>
            document.getElementById('explanation').textContent.includes('Wexcombe Shrike'));
        assert.match(await text(page, '#drawing'), /Hardtop “Sealine”/);
        await page.click('#built-in');
        assert.match(await text(page, '#tables-are'), /^The built-in tables/);
        assert.doesNotMatch(await seen(), /Shrike/);
    }));

    test('that is damaged is refused in words', () => onPage({}, async (page) => {
        const file = join(folder, 'damaged.image');
        writeFileSync(file, readFileSync(PORT_ELLERY_IMAGE).subarray(0, 9000));
        await page.setInputFiles('#tables-file', file);
        await page.waitForSelector('#tables-trouble:not([hidden])');
        assert.match(await text(page, '#tables-trouble'), /damaged\.image.*not a table image/);
        assert.match(await text(page, '#tables-are'), /^The built-in tables/);
        const names = join(folder, 'bad.names');
        writeFileSync(names, 'no sense\n<b>x</b> = <i>y</i>\n');
        await page.setInputFiles('#names-file', names);
        await page.waitForFunction(() =>
            document.getElementById('tables-trouble').textContent.includes('Line 2'));
    }));
});

describe('hostile input', () => {
    test('is shown as text wherever it is typed', () => onPage({}, async (page) => {
        await addPlate(page, 'engine', 'x');
        await page.click('#add-date');
        for (const words of HOSTILE) {
            await page.fill('#number', words);
            await page.fill('#plates input', words);
            await page.fill('#dates input', words);
            await page.fill('#claims', `body=${words}\n${words}`);
            await page.fill('#claims', `body=${words}`);
            const found = await page.locator(
                'main img, main b[onclick], main i, main script, main main').count();
            assert.equal(found, 0, words);
        }
        await page.fill('#number', '3Y86N400001');
        await page.fill('#claims', 'body=<b>x</b>');
        assert.match(await text(page, '#claims-answer'), /<b>x<\/b>/);
        await page.fill('#number', 'T'.repeat(300));
        assert.match(await text(page, '#number-trouble'), /PLW_E_TOO_LONG/);
        assert.match(await text(page, '#car-trouble'), /PLW_E_TOO_LONG/);
        assert.equal(await page.locator('#reading').isVisible(), false);
        await page.fill('#number', '3Y86N400001');
        await page.fill('#plates input', '3Y400001');
        await page.fill('#dates input', '3A1');
        for (const id of ['trouble', 'number-trouble', 'car-trouble', 'claims-trouble'])
            assert.equal(await page.locator(`#${id}`).isVisible(), false, id);
    }));

    test('the content security policy stops a script and a request that get in', async () => {
        const context = await browser.newContext();
        const page = await context.newPage();
        const refused = [];
        const answered = [];
        page.on('requestfailed', (request) => refused.push(request.failure().errorText));
        page.on('requestfinished', (request) => answered.push(request.url()));
        await page.goto(pathToFileURL(PAGE).href);
        await page.waitForSelector('#book:not([hidden])');
        await page.evaluate(() => {
            document.body.insertAdjacentHTML('beforeend',
                '<img src="http://127.0.0.1:9/x.png" onerror="window.bad = 1">');
            const script = document.createElement('script');
            script.textContent = 'window.bad = 2';
            document.body.append(script);
            const style = document.createElement('style');
            style.textContent = 'h1 { color: red }';
            document.body.append(style);
            return fetch('http://127.0.0.1:9/').catch(() => {});
        });
        assert.equal(await page.evaluate(() => window.bad), undefined);
        assert.notEqual(await page.evaluate(() =>
            getComputedStyle(document.querySelector('h1')).color), 'rgb(255, 0, 0)');
        assert.ok(refused.length > 0 && refused.every((why) => why === 'csp'), refused.join());
        assert.deepEqual(answered, [pathToFileURL(PAGE).href]);
        await context.close();
    });
});

describe('the look', () => {
    for (const colorScheme of ['light', 'dark']) {
        test(`360 pixels, ${colorScheme}: nothing sticks out, and axe finds nothing`,
            () => onPage({ colorScheme, viewport: { width: 360, height: 740 } }, async (page) => {
                await fillAll(page);
                const width = await page.evaluate(() => document.documentElement.scrollWidth);
                assert.equal(width, 360);
                const background = await page.evaluate(() =>
                    getComputedStyle(document.body).backgroundColor);
                const [red] = background.match(/\d+/g).map(Number);
                assert.ok(colorScheme === 'dark' ? red < 60 : red > 200, background);
                await page.evaluate(AXE);
                const { violations } = await page.evaluate(() => window.axe.run());
                assert.deepEqual(violations.map(({ id, nodes }) =>
                    `${id}: ${nodes.map((node) => node.html).join(' ')}`), []);
            }));
    }

    test('on a wide screen the number stays in sight', () => onPage({}, async (page) => {
        await fillAll(page);
        await page.evaluate(() => window.scrollTo(0, 2500));
        const top = await page.evaluate(() =>
            document.getElementById('strip').getBoundingClientRect().top);
        assert.ok(top > 0 && top < 900, `${top}`);
        await page.evaluate(AXE);
        const { violations } = await page.evaluate(() => window.axe.run());
        assert.deepEqual(violations.map(({ id }) => id), []);
    }));

    test('at 200 per cent nothing sticks out', () =>
        onPage({ viewport: { width: 320, height: 500 } }, async (page) => {
            await fillAll(page);
            assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 320);
        }));

    test('print leaves the controls out', () => onPage({}, async (page) => {
        await fillAll(page);
        await page.emulateMedia({ media: 'print' });
        for (const control of ['#number', '#sample', '#claims', '#add-plate', '#print',
            '#tables-file'])
            assert.equal(await page.locator(control).isVisible(), false, control);
        for (const kept of ['#strip', '#grade', '#explanation', '#car-explanation',
            '#claims-answer', '#tables-are'])
            assert.equal(await page.locator(kept).isVisible(), true, kept);
        const pdf = await page.pdf({ format: 'A4' });
        assert.equal(pdf.subarray(0, 5).toString(), '%PDF-');
    }));

    test('the print button prints', () => onPage({}, async (page) => {
        await page.evaluate(() => {
            window.print = () => { window.printed = true; };
        });
        await page.click('#print');
        assert.equal(await page.evaluate(() => window.printed), true);
    }));
});

describe('the keyboard alone', () => {
    test('does all of it, and what has the focus can be seen', () => onPage({}, async (page) => {
        const press = async (...keys) => {
            for (const key of keys)
                await page.keyboard.press(key);
        };
        const focused = () => page.evaluate(() => {
            const { activeElement: element } = document;
            const { outlineStyle, outlineWidth } = getComputedStyle(element);
            return {
                name: element.id || element.getAttribute('aria-label') || element.innerText,
                seen: outlineStyle !== 'none' && outlineWidth !== '0px',
            };
        });
        const tabTo = async (name) => {
            for (let step = 0; step < 40; step++) {
                const at = await focused();
                if (at.name === name) {
                    assert.ok(at.seen, name);
                    return;
                }
                await press('Tab');
            }
            assert.fail(`${name} is not reached by the Tab key`);
        };
        await press('Tab');
        assert.equal((await focused()).name, 'number');
        await page.keyboard.type('9F94H575103');
        await tabTo('sample');
        await tabTo('print');
        await tabTo('The explanation');
        await press('Enter');
        assert.equal(await page.locator('#explanation').isVisible(), false);
        await press('Enter');
        await tabTo('where');
        await tabTo('add-plate');
        await press('Enter');
        assert.equal((await focused()).name, 'Plate 1: what it shows');
        await page.keyboard.type('9F575104');
        await press('Shift+Tab');
        await page.keyboard.type('engine');
        assert.match(await text(page, '#car-explanation'), /engine stamp/);
        await tabTo('Remove Plate 1');
        await press('Enter');
        assert.equal((await focused()).name, 'add-plate');
        await tabTo('add-date');
        await tabTo('claims');
        await page.keyboard.type('year = 1968');
        assert.match(await text(page, '#claims-answer'), /contradicted/);
        await tabTo('tables-file');
        await tabTo('names-file');
    }));

    test('a screen reader is told politely', () => onPage({}, async (page) => {
        for (const id of ['judgement', 'car-verdict', 'claims-trouble', 'car-trouble'])
            assert.equal(await page.getAttribute(`#${id}`, 'role'), 'status');
        for (const id of ['trouble', 'number-trouble', 'tables-trouble'])
            assert.equal(await page.getAttribute(`#${id}`, 'role'), 'alert');
        await page.fill('#number', 'S23R6N50012');
        assert.ok(await page.getByLabel('As stamped or typed').isVisible());
        assert.equal(await page.getByRole('list', { name: 'The number, character by character' })
            .getByRole('listitem').count(), 11);
    }));
});

// What the library writes for other people's pages.
describe('outputs of the library in a page', () => {
    const strict = "default-src 'none'";

    // In every place where a page shows words that are not the library's.
    const written = async () => {
        const platewright = await load(readFileSync(MODULE));
        const tables = platewright.tables(readFileSync(PORT_ELLERY_IMAGE));
        const names = platewright.names(HOSTILE.slice(0, 8).map((words, index) =>
            `port-ellery-1962/${['line/S/1964', 'plant/N/1965', 'year/6/1966', 'line/T/1962',
                'body/24/1962', 'engine/K/1962', 'plant/P/1962', 'body/31/1962'][index]} = ` +
            words).join('\n'), { tables });
        assert.deepEqual(names.problems, []);
        const options = { tables, names, sources: true };
        const numbers = ['S23R6N500123', 'T24K3P100051', 'S31K5N5OO125', ...HOSTILE]
            .filter((number) => number.length < 256);
        const claim = (number) => number.replaceAll(/[;\u202E]/g, ',');
        return (format) => numbers.flatMap((number) => [
            platewright.explain(number,
                { ...options, format, suggest: true, claims: { body: claim(number) } }),
            platewright.explainCar([['dash', number], ['engine', number]],
                { ...options, format, dates: [['casting', number.slice(0, 60)]] }),
        ]);
    };

    const scripts = (page) => page.evaluate(() =>
        [...document.querySelectorAll('*')].filter((element) =>
            ['SCRIPT', 'IMG', 'IFRAME', 'OBJECT', 'EMBED', 'FORM', 'foreignObject']
                .includes(element.tagName) ||
            [...element.attributes].some(({ name, value }) =>
                name.startsWith('on') || /^\s*javascript:/i.test(value)))
            .map((element) => element.outerHTML));

    test('drawings survive a policy that allows nothing', async () => {
        const drawings = (await written())('svg');
        const file = join(folder, 'drawings.html');
        writeFileSync(file, `<!DOCTYPE html><html lang="en"><meta charset="utf-8"><title>x</title>
            <meta http-equiv="Content-Security-Policy" content="${strict}">
            ${drawings.map((drawing) => `<p>${drawing}</p>`).join('\n')}`);
        await using([file], {}, async (page) => {
            assert.equal(await page.locator('p > svg').count(), drawings.length);
            assert.deepEqual(await scripts(page), []);
            assert.match(await text(page, 'body'), /<img src=x onerror=alert\(1\)>/);
        });
    });

    test('pages have no script and ask for nothing', async () => {
        const pages = (await written())('html');
        const files = pages.map((html, index) => {
            const file = join(folder, `explanation${index}.html`);
            writeFileSync(file, html.replace('<head>', '<head><meta http-equiv=' +
                `"Content-Security-Policy" content="${strict}; style-src 'unsafe-inline'">`));
            return file;
        });
        await using(files, { viewport: { width: 360, height: 740 } }, async (page) => {
            assert.deepEqual(await scripts(page), []);
            assert.equal(await page.locator('main').count(), 1);
            const width = await page.evaluate(() => document.documentElement.scrollWidth);
            assert.ok(width <= 360, `${width} pixels: ${await page.title()}`);
        });
        assert.match(pages[0], /&lt;img src=x onerror=alert\(1\)&gt;/);
    });
});
