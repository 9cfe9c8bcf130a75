/**
 * What a surgeon signs, and the paper pack for the day when the desk is down: two A4 pages for each run of days of one
 * script, and at the end, once for all days, what is asked only when something points to it. Of the two pages the first
 * says what is asked and what counts at once; the second what adds up, what is said, and the sources.
 */
import type { Condition } from '../../clinical/finding.ts';
import { rank } from '../../clinical/outcome.ts';
import { findingsIn } from '../../clinical/condition.ts';
import { LAST_DAY, type Window } from '../../clinical/window.ts';
import type { Flow, Question, Rule } from '../../flow/compiled.ts';
import { conditionWords, effectWords, isOnlyUnsure, outcomeWords } from './answer-words.ts';
import { askedOn, dayWindowsOf, daysText, pointedOn, touches, type Days } from './day-windows.ts';
import { escaped } from './svg.ts';

export interface SheetHead {
  readonly practice: string;
  readonly hash: string;
  /** `approved until ...` or why not. */
  readonly state: string;
}

/** A whole HTML page, printable as it is. */
export function sheetOf(flow: Flow, head: SheetHead): string {
  const windows = dayWindowsOf(flow);
  return [
    '<!doctype html><html lang="en-GB"><head><meta charset="utf-8">',
    `<title>${escaped(flow.title)}</title><style>${STYLE}</style></head><body>`,
    ...windows.flatMap((days) => pagesOf(flow, days, head)),
    pointedPages(flow, head),
    '</body></html>',
  ].join('\n');
}

const STYLE = `
@page { size: A4; margin: 9mm }
body { font-family: sans-serif; color: #000; margin: 0 }
section { break-after: page; height: 277mm; overflow: hidden; column-gap: 4mm }
section.on { height: auto; overflow: visible }
header { column-span: all; border-bottom: 1.5pt solid #000; margin-bottom: 1mm }
h1 { font-size: 1.5em; margin: 0 } h2 { font-size: 1.15em; margin: 1mm 0 0.4mm; break-after: avoid }
p, ul, ol { margin: 0 0 0.5mm } ul, ol { padding-left: 3mm } li { break-inside: avoid }
b { font-weight: bold } .why { color: #333 }
@media screen { section { width: 192mm; margin: 5mm auto; outline: 1px solid #888; padding: 5mm } }
`;

/** From measured pages: a page takes about this many letters at one point of type, three columns. */
const LETTERS_AT_ONE_POINT = 430_000;
const LARGEST = 8.5;

function pagesOf(flow: Flow, days: Days, head: SheetHead): readonly string[] {
  const { cite, list } = citing();
  const asked = askedOn(flow, days);
  const rules = rulesOn(flow, days).filter((rule) => isAbout(rule, asked));
  const part: Part = { flow, days, rules, cite };
  const first = [...askedPart(asked), ...alarmPart(part)];
  const second = [...pointsPart(part), ...saidPart(part)];
  const signed =
    '<p>Surgeon: ______________________ Safety officer: ______________________ Date: ____________</p>';
  return [
    page({ flow, days, head, part: 1, html: first.join('') }),
    page({
      flow,
      days,
      head,
      part: 2,
      html: [...second, `<h2>Sources</h2><p>${list()}</p>`, signed].join(''),
    }),
  ];
}

interface Page {
  readonly flow: Flow;
  readonly days: Days;
  readonly head: SheetHead;
  readonly part: 1 | 2;
  readonly html: string;
}

function page({ flow, days, head, part, html }: Page): string {
  const letters = html.replace(/<[^>]*>/g, '').length;
  const points = Math.min(LARGEST, Math.sqrt(LETTERS_AT_ONE_POINT / Math.max(letters, 1)));
  return [
    `<section style="font-size:${points.toFixed(2)}pt;columns:${letters > 6000 ? '3' : '2'}"><header>`,
    `<h1>${escaped(flow.title)}: ${daysText(days)} (${String(part)} of 2)</h1>`,
    `<p>${escaped(head.practice)}. Content ${head.hash.slice(0, 12)}: ${escaped(head.state)}. ${escaped(flow.words.caution)}</p></header>`,
    html,
    '</section>',
  ].join('');
}

/** What the parts of a page are written from: the rules that the page is about, and where their sources are listed. */
interface Part {
  readonly flow: Flow;
  readonly days: Days;
  readonly rules: readonly Rule[];
  readonly cite: Cite;
}

function askedPart(asked: readonly Question[]): readonly string[] {
  const line = (question: Question): string =>
    `<li>${escaped(question.words)} <span class="why">${escaped(question.why)}</span>${answersOf(question)}</li>`;
  return ['<h2>Asked on every call</h2><ol>', ...asked.map(line), '</ol>'];
}

/** Whether any of these questions settles something that the rule looks at. */
function isAbout(rule: Rule, asked: readonly Question[]): boolean {
  const wanted = findingsIn(rule.if);
  return asked.some(({ findings }) => findings.some((id) => wanted.includes(id)));
}

/** For all days at once, each with its own: these pages run on as long as they need. */
function pointedPages(flow: Flow, head: SheetHead): string {
  const all: Days = [0, LAST_DAY];
  const windows = dayWindowsOf(flow);
  const isElsewhere = (rule: Rule): boolean =>
    windows.every((days) => !touches(rule.window, days) || isAbout(rule, askedOn(flow, days)));
  const rules = rulesOn(flow, all).filter((rule) => !isElsewhere(rule));
  const { cite, list } = citing();
  const part: Part = { flow, days: all, rules, cite };
  const questions = pointedOn(flow, all).map(
    ({ words, when, window }) =>
      `<li>${escaped(words)}${own(window, all)}${when === null ? '' : ` <span class="why">if ${escaped(ways(flow, when))}</span>`}</li>`,
  );
  return [
    `<section class="on" style="font-size:6.5pt;columns:3"><header><h1>${escaped(flow.title)}: when something points to it, all days</h1>`,
    `<p>${escaped(head.practice)}. Content ${head.hash.slice(0, 12)}: ${escaped(head.state)}.</p></header>`,
    '<h2>Asked</h2><ul>',
    ...questions,
    '</ul>',
    ...alarmPart(part),
    ...pointsPart(part),
    `<h2>Sources</h2><p>${list()}</p></section>`,
  ].join('');
}

function answersOf({ answers, kind }: Question): string {
  const own = answers.filter(({ value }) => !['yes', 'no', 'unsure'].includes(String(value)));
  if (kind !== 'finding' || own.length === 0) return '';
  return ` [${escaped(own.map(({ label }) => label).join(' | '))}]`;
}

type Cite = (source: string) => string;

/** Numbers every source where it is first used. */
function citing(): { readonly cite: Cite; readonly list: () => string } {
  const sources = new Map<string, number>();
  return {
    cite: (source) => {
      const known = sources.get(source) ?? sources.size + 1;
      sources.set(source, known);
      return `<sup>${String(known)}</sup>`;
    },
    list: () => [...sources].map(([source, at]) => `<b>${String(at)}</b> ${escaped(source)}`).join('; '),
  };
}

function alarmPart({ flow, days, rules: all, cite }: Part): readonly string[] {
  const rules = all.filter(({ effect }) => effect.kind === 'red-flag');
  const worst = rules.toSorted((a, b) => rankOf(b) - rankOf(a));
  return [
    '<h2>Counts at once</h2><ul>',
    ...worst.map((rule) => {
      const until = rule.effect.kind === 'red-flag' ? rule.effect.untilSeen.join(' ') : '';
      return `<li><b>${escaped(effectWords(flow, rule.effect))}</b>: ${escaped(ways(flow, rule.if))}${own(rule.window, days)}. <span class="why">${escaped(rule.because)} ${escaped(until)}</span>${cite(rule.source)}</li>`;
    }),
    '</ul><p>Not knowing counts as the rules for every script say: what cannot be ruled out is a danger.</p>',
  ];
}

function pointsPart({ flow, days, rules, cite }: Part): readonly string[] {
  const least = rules.filter(({ effect }) => effect.kind === 'at-least');
  const concerns = flow.concerns.flatMap((concern) => {
    const own = rules.filter(({ effect }) => effect.kind === 'points' && effect.concern === concern.id);
    if (own.length === 0) return [];
    const levels = concern.thresholds
      .map(({ points, to }) => `${String(points)}: ${outcomeWords(to)}`)
      .join('; ');
    const items = own.map((rule) => pointItem(flow, rule, { days, cite }));
    return [
      `<p><b>${escaped(concern.title)}</b> (${escaped(levels)}) ${escaped(concern.because)}${cite(concern.source)}</p><ul>${items.join('')}</ul>`,
    ];
  });
  return [
    '<h2>Adds up to a possible complication</h2>',
    ...concerns,
    '<h2>Gives at least</h2><ul>',
    ...least.map(
      (rule) =>
        `<li><b>${escaped(effectWords(flow, rule.effect))}</b>: ${escaped(ways(flow, rule.if))}${own(rule.window, days)}. <span class="why">${escaped(rule.because)}</span>${cite(rule.source)}</li>`,
    ),
    '</ul>',
  ];
}

function pointItem(
  flow: Flow,
  rule: Rule,
  { days, cite }: { readonly days: Days; readonly cite: Cite },
): string {
  const points = rule.effect.kind === 'points' ? rule.effect.points : 0;
  return `<li>+${String(points)} ${escaped(ways(flow, rule.if))}${own(rule.window, days)} <span class="why">${escaped(rule.because)}</span>${cite(rule.source)}</li>`;
}

function saidPart({ flow, days, cite }: Part): readonly string[] {
  const net = flow.safetyNet.filter(({ window }) => touches(window, days));
  const usual = flow.normal.filter(({ window }) => touches(window, days));
  const care = flow.aftercare.filter(({ window }) => touches(window, days));
  return [
    '<h2>Usual on these days</h2>',
    `<p>${usual.map(({ say, window }) => `${escaped(say)}${own(window, days)}`).join(' ')}</p>`,
    '<h2>Safety-net signs</h2>',
    `<p>${[...new Set(net.map(({ say }) => say))].map(escaped).join(' ')}</p>`,
    '<h2>Aftercare</h2><ul>',
    ...care.map(
      ({ kind, say, window, source }) =>
        `<li><b>${kind.replaceAll('-', ' ')}</b>${own(window, days)}: ${escaped(say)}${cite(source)}</li>`,
    ),
    '</ul>',
  ];
}

function rulesOn(flow: Flow, days: Days): readonly Rule[] {
  return flow.rules.filter((rule) => touches(rule.window, days) && !isOnlyUnsure(rule.if));
}

function rankOf({ effect }: Rule): number {
  return effect.kind === 'points' ? 0 : rank(effect.to);
}

function ways(flow: Flow, condition: Condition): string {
  return conditionWords(flow, condition).join('; or ');
}

/** Only where a window is narrower than the pages it stands on. */
function own(window: Window, [from, to]: Days): string {
  const hours = window.hours === null ? '' : `, hours ${window.hours.join('-')}`;
  const inside = window.days[0] > from || window.days[1] < to;
  return inside || hours !== '' ? ` (days ${window.days.join('-')}${hours})` : '';
}
