// SPDX-License-Identifier: MIT
//
// The page: asks the library at every key stroke and shows what it says. Texts go
// into the page as text; drawings are parsed as XML.

import { load } from '../platewright.js';

const SIGNS = {
    clear: '✓', note: 'i', doubt: '?', fault: '✕', impossible: '✕',
    supported: '✓', contradicted: '✕', 'not-told': '–',
};

const $ = (id) => document.getElementById(id);

let platewright;
let tables = null;
let names = null;

// ---- Elements ----------------------------------------------------------------

function element(name, attributes = {}, ...children) {
    const made = document.createElement(name);
    for (const [key, value] of Object.entries(attributes))
        made.setAttribute(key, value);
    made.append(...children);
    return made;
}

function show(id, visible) {
    $(id).hidden = !visible;
}

// A live region speaks when it changes, so it changes only when it must.
function say(id, text) {
    if ($(id).textContent !== text)
        $(id).textContent = text;
    $(id).hidden = text === '';
}

function drawing(id, svg) {
    const parsed = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    $(id).replaceChildren(document.importNode(parsed, true));
}

// A page of the library as a part of this one, its headings two steps down.
function embed(id, html) {
    const [part] = html.match(/<main>[^]*<\/main>/);
    const { body } = new DOMParser().parseFromString(part, 'text/html');
    for (const heading of body.querySelectorAll('h1, h2, h3')) {
        heading.replaceWith(element(`h${Number(heading.tagName[1]) + 2}`, {},
            ...heading.childNodes));
    }
    for (const link of body.querySelectorAll('a'))
        link.target = '_blank'; // what was typed stays
    $(id).replaceChildren(...document.importNode(body.firstChild, true).childNodes);
}

function tagged(kind, label, sentence) {
    return element('li', {},
        element('span', { class: `tag ${kind}` }, `${SIGNS[kind]} ${label}`),
        element('span', {}, sentence));
}

function choices(select, entries) {
    select.replaceChildren(...entries.map(([value, label]) => element('option', { value }, label)));
}

// ---- The number ----------------------------------------------------------------

function characters(count) {
    return count === 1 ? '1 more character' : `${count} more characters`;
}

function remaining({ remaining_min: least, remaining_max: most }) {
    return least === most ? characters(least) : `${least} to ${characters(most)}`;
}

function judgement(prefix) {
    switch (prefix.state) {
    case 'impossible':
        return 'No number in the tables begins so.';
    case 'complete':
        return prefix.remaining_max > 0
            ? `Complete; longer numbers begin so, too: up to ${characters(prefix.remaining_max)}.`
            : 'Complete.';
    default:
        return prefix.spans.length === 0 ? '' : `Possible so far: ${remaining(prefix)} to come.`;
    }
}

function showNext(prefix) {
    const more = prefix.spans.length > 0 && prefix.allowed !== '';
    show('next', more);
    const rest = [...prefix.allowed].filter((each) => !prefix.known.includes(each)).join('');
    const entry = (title, text) =>
        text === '' ? [] : [element('dt', {}, title), element('dd', {}, text)];
    $('next').replaceChildren(...entry('Next, as the tables list it', prefix.known),
        ...entry('Next, allowed but not in the tables', rest));
}

// What each character does to the number: the first that makes it impossible, and
// those of which findings speak, the gravest first.
function markOf(position, text, spans, findings) {
    const upTo = (index) =>
        platewright.prefix(text.slice(0, spans[index][1]), { tables }).state;
    if (upTo(position) === 'impossible' && (position === 0 || upTo(position - 1) !== 'impossible'))
        return { kind: 'impossible', words: 'no number goes on like this' };
    const finding = findings.find((each) => each.positions.includes(position + 1));
    return finding
        ? { kind: finding.grade, words: `${finding.grade}: ${finding.sentence}` }
        : { kind: 'clear', words: 'fits' };
}

function showStrip(text, { spans }, findings) {
    show('strip', spans.length > 0);
    $('strip').replaceChildren(...spans.map(([start, end], position) => {
        const { kind, words } = markOf(position, text, spans, findings);
        return element('li', {
            class: kind, title: words, 'data-sign': kind === 'clear' ? '' : SIGNS[kind],
        }, text.slice(start, end), element('span', { class: 'hidden-text' }, `, ${words}`));
    }));
}

function showSuggestions(suggestions = []) {
    $('suggestions').replaceChildren(...suggestions.map(({ number, sentence }) => {
        const take = element('button', { type: 'button', class: 'controls' }, `Try ${number}`);
        take.addEventListener('click', () => {
            $('number').value = number;
            $('number').focus();
            update();
        });
        return element('p', {}, sentence, ' ', take);
    }));
}

function showReading(text, answer) {
    const [best] = answer.readings;
    const heading = `${SIGNS[answer.grade]} ${answer.grade}`;
    $('grade').replaceChildren(element('span', { class: `tag ${answer.grade}` }, heading), ' ',
        best ? `${best.title}; ${best.years.join(' or ') || 'no model year fits'}` : 'no reading');
    $('findings').replaceChildren(...answer.findings
        .map((finding) => tagged(finding.grade, finding.grade, finding.sentence)));
    showSuggestions(answer.suggestions);
    const explain = (format) => platewright.explain(text,
        { tables, names, format, sources: true, claims: readableClaims() });
    drawing('drawing', explain('svg'));
    embed('explanation', explain('html'));
}

// ---- The car -------------------------------------------------------------------

// The button adds lines to the box: a choice, a text, and a button that takes it away.
function growing(box, button, kinds, words) {
    let added = 0;
    button.addEventListener('click', () => {
        const which = `${words.thing} ${++added}`;
        const select = element('select', { 'aria-label': `${which}: ${words.choice}` });
        choices(select, Object.entries(kinds));
        select.selectedIndex = Math.min(box.children.length + words.first, select.length - 1);
        const input = element('input', {
            type: 'text', autocomplete: 'off', spellcheck: 'false',
            'aria-label': `${which}: ${words.text}`,
        });
        const remove = element('button', { type: 'button', 'aria-label': `Remove ${which}` },
            'Remove');
        const line = element('div', { class: 'line' }, select, input, remove);
        remove.addEventListener('click', () => {
            line.remove();
            button.focus();
            update();
        });
        box.append(line);
        input.focus();
    });
}

function filled(box) {
    return [...box.children]
        .map((line) => [line.querySelector('select').value, line.querySelector('input').value])
        .filter(([, text]) => text.trim() !== '');
}

function claimsText() {
    return $('claims').value.split('\n').map((line) => line.trim()).filter(Boolean).join('; ');
}

// The claims, if the library can take them.
function readableClaims() {
    try {
        platewright.validate('', { claims: claimsText() });
        return claimsText();
    } catch {
        return '';
    }
}

function showClaims(text) {
    const { claims = [] } = platewright.validate(text, { tables, names, claims: claimsText() });
    show('claims-answer', claims.length > 0);
    $('claims-answer').replaceChildren(...claims.map((claim) =>
        tagged(claim.verdict, claim.verdict.replace('-', ' '), claim.sentence)));
}

function showCar(text) {
    const others = filled($('plates'));
    const dates = filled($('dates'));
    const plates = text.trim() === '' ? others : [[$('where').value, text], ...others];
    show('car', others.length + dates.length > 0);
    if (others.length + dates.length === 0)
        return;
    const options = { tables, names, sources: true, dates, claims: readableClaims() };
    say('car-verdict', platewright.compare(plates, options).summary);
    embed('car-explanation', platewright.explainCar(plates, { ...options, format: 'html' }));
}

// ---- Tables --------------------------------------------------------------------

function showTables() {
    const schemes = platewright.schemes(tables);
    $('tables-are').textContent = `${tables ? 'Your own tables' : 'The built-in tables'} of ` +
        `${platewright.edition(tables)}: ${schemes.length} schemes, digest ` +
        `${platewright.digest(tables)}; Platewright ${platewright.version}.`;
    show('built-in', tables !== null);
    choices($('sample'), [['', 'choose a scheme'], ...schemes.map((scheme) =>
        [scheme.layouts[0].sample, scheme.title])]);
}

function useTables(opened) {
    names?.close();
    names = null;
    tables?.close();
    tables = opened;
    $('names-file').value = '';
    say('tables-trouble', '');
    showTables();
    update();
}

async function openFile(input, take) {
    const [file] = input.files;
    if (!file)
        return;
    try {
        take(new Uint8Array(await file.arrayBuffer()));
    } catch (error) {
        say('tables-trouble', `${file.name}: ${error.message}`);
        input.value = '';
    }
}

function useNames(bytes) {
    const made = platewright.names(new TextDecoder().decode(bytes), { tables });
    names?.close();
    names = made;
    say('tables-trouble', made.problems
        .map(({ line, sentence }) => `Line ${line}: ${sentence}`).join(' '));
    update();
}

// ---- All of it -----------------------------------------------------------------

function showNumber(text) {
    const prefix = platewright.prefix(text, { tables });
    const answer = platewright.suggest(text, { tables, names });
    const ready = prefix.state !== 'open';
    showStrip(text, prefix, ready ? answer.findings : []);
    say('judgement', judgement(prefix));
    showNext(prefix);
    show('reading', ready);
    if (ready)
        showReading(text, answer);
}

// Shows what the library refuses in the place for it, instead of an old answer.
function attempt(trouble, answers, work) {
    try {
        work();
        say(trouble, '');
    } catch (error) {
        answers.forEach((id) => show(id, false));
        say(trouble, error.message);
    }
}

function update() {
    const text = $('number').value;
    attempt('number-trouble', ['strip', 'judgement', 'next', 'reading'], () => showNumber(text));
    attempt('claims-trouble', ['claims-answer'], () => showClaims(text));
    attempt('car-trouble', ['car'], () => showCar(text));
}

function listen() {
    $('book').addEventListener('input', (event) => {
        if (event.target.type !== 'file')
            update();
    });
    $('sample').addEventListener('change', () => {
        $('number').value = $('sample').value;
        update();
    });
    growing($('plates'), $('add-plate'), platewright.places,
        { thing: 'Plate', choice: 'where it is', text: 'what it shows', first: 1 });
    growing($('dates'), $('add-date'), platewright.dateKinds,
        { thing: 'Date', choice: 'where it is', text: 'what it shows', first: 0 });
    $('tables-file').addEventListener('change', () =>
        openFile($('tables-file'), (bytes) => useTables(platewright.tables(bytes))));
    $('names-file').addEventListener('change', () => openFile($('names-file'), useNames));
    $('built-in').addEventListener('click', () => {
        $('tables-file').value = '';
        useTables(null);
        $('tables-file').focus();
    });
    $('print').addEventListener('click', () => window.print());
}

async function begin() {
    try {
        const module = atob($('module').textContent);
        platewright = await load(Uint8Array.from(module, (each) => each.charCodeAt(0)));
    } catch (error) {
        say('trouble', `The library does not start: ${error.message}`);
        return;
    }
    choices($('where'), Object.entries(platewright.places));
    listen();
    showTables();
    update();
    show('book', true);
}

await begin();
