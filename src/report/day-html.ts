/** A day's plan as one HTML page for the wall and the phone: nothing is loaded from elsewhere, nothing is run. */
import type { Day, PlannedCase, UnplannedCase } from '../day/day.ts';
import { endOf } from '../day/day-case.ts';
import { DAY_STYLE } from './day-style.ts';
import { dayFrame } from './day-timeline.ts';
import {
  bagWords,
  cautionWords,
  circuitWords,
  clashWords,
  clock,
  daySummary,
  machineOf,
  morningWords,
  noRemedyWords,
  numbersWords,
  OPENING_TITLE,
  openingCommands,
  oxygenWords,
  patientWords,
  remedyWords,
  STATE_WORDS,
  sharedCautions,
  spanWords,
  supplyWords,
} from './day-words.ts';
import { dateWords } from './due-words.ts';
import { SAFETY_LINE } from './safety.ts';
import { escapeXml } from './xml.ts';

export function renderDayHtml(day: Day): string {
  const title = `${dateWords(day.date)}, ${day.inventory.practice.name}`;
  const parts = [
    `<h1>${escapeXml(dateWords(day.date))}</h1>`,
    `<p class="where">${escapeXml(day.inventory.practice.name)} &middot; ${escapeXml(daySummary(day))}</p>`,
    ...day.clashes.map(clash => clashHtml(day, clash)),
    timeline(day),
    `<h2>Cases</h2>`,
    `<div class="cases">${day.cases.map((one, i) => caseHtml(day, one, i + 1)).join('\n')}</div>`,
    cautions(day),
    morning(day),
    supplies(day),
    `<footer>${escapeXml(SAFETY_LINE)}<br>Inventory ${day.inventory.blob.slice(0, 10)}, planned ${escapeXml(day.at.slice(0, 16).replace('T', ' '))}</footer>`,
  ];
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${escapeXml(title)}</title>
<style>${DAY_STYLE}</style>
</head>
<body>
${parts.filter(part => part !== '').join('\n')}
</body>
</html>
`;
}

function clashHtml(day: Day, clash: Day['clashes'][number]): string {
  const remedies = clash.remedies.map(remedy => `<li>${escapeXml(remedyWords(day, remedy))}</li>`).join('');
  const what =
    remedies === ''
      ? `<p>${escapeXml(noRemedyWords(clash))}</p>`
      : `<p>Each of these by itself would resolve it:</p><ul>${remedies}</ul>`;
  return `<section class="stop"><p><strong>STOP</strong> ${escapeXml(clashWords(day, clash))}.</p>${what}</section>`;
}

function timeline(day: Day): string {
  const cases = day.cases.flatMap((one, i) => (one.state === 'planned' ? [{ one, number: i + 1 }] : []));
  if (cases.length === 0) return '';
  const { from, to } = dayFrame(
    day,
    cases.map(({ one }) => one),
  );
  const percent = (instant: number) => (((instant - from) / (to - from)) * 100).toFixed(2);
  const machines = day.inventory.machines.filter(({ id }) => cases.some(({ one }) => machineOf(one) === id));
  const hours: string[] = [];
  for (let at = from; at < to; at += 3_600_000)
    hours.push(`<span style="left:${percent(at)}%">${clock(day, new Date(at)).slice(0, 2)}</span>`);
  const turnoverMs = day.inventory.rules.turnoverMinutes.value * 60_000;
  const rows = machines.map(({ id }) => {
    const bars = cases
      .filter(({ one }) => machineOf(one) === id)
      .map(({ one, number }) => {
        const [start, end] = [one.dayCase.start.getTime(), endOf(one.dayCase).getTime()];
        const width = (((end - start) / (to - from)) * 100).toFixed(2);
        const rest = ((turnoverMs / (to - from)) * 100).toFixed(2);
        return `<i class="rest" style="left:${percent(end)}%;width:${rest}%"></i><b style="left:${percent(start)}%;width:${width}%">${number}</b>`;
      });
    return `<div class="row"><span class="name">${escapeXml(id)}</span><div class="track">${bars.join('')}</div></div>`;
  });
  return `<section class="timeline"><div class="row hours"><span class="name"></span><div class="track">${hours.join('')}</div></div>${rows.join('')}</section>`;
}

function caseHtml(day: Day, one: PlannedCase | UnplannedCase, number: number): string {
  const head = `<h3><span class="number">${number}</span> ${spanWords(day, one)} ${escapeXml(one.dayCase.ref)} <small>${escapeXml(patientWords(one))}</small></h3>`;
  const stops = one.plan.cautions
    .filter(({ level }) => level === 'stop')
    .map(caution => `<p class="stop"><strong>STOP</strong> ${escapeXml(cautionWords(caution))}</p>`)
    .join('');
  if (one.state !== 'planned')
    return `<article>${head}<p class="stop"><strong>${STATE_WORDS[one.state].toUpperCase()}</strong></p>${stops}</article>`;
  const rows = [
    ['Machine', machineOf(one)],
    ['Circuit', circuitWords(one)],
    ['Bag', bagWords(one.bag)],
    ['Oxygen', oxygenWords(one)],
  ];
  const list = rows.map(([name, value]) => `<dt>${name}</dt><dd>${escapeXml(value ?? '')}</dd>`).join('');
  return `<article>${head}<dl>${list}</dl>${stops}</article>`;
}

function cautions(day: Day): string {
  const items = sharedCautions(day).map(caution => {
    const level = caution.level === 'note' ? 'note' : caution.level.toUpperCase();
    return `<li><strong>${level}</strong> ${escapeXml(caution.message)}${numbersWords(caution)}</li>`;
  });
  return items.length === 0 ? '' : `<h2>Cautions</h2><ul class="cautions">${items.join('')}</ul>`;
}

function morning(day: Day): string {
  if (day.morning.length === 0) return '';
  const blocks = day.morning.map(({ ref, start, items }) => {
    const number = day.cases.findIndex(({ dayCase }) => dayCase.ref === ref) + 1;
    const list = items.map(item => `<li>${escapeXml(morningWords(item))}</li>`).join('');
    return `<section class="before"><h3>before ${clock(day, start)}, case ${number}, ${escapeXml(ref)}</h3><ul class="todo">${list}</ul></section>`;
  });
  const commands = openingCommands(day)
    .map(line => `<li>${escapeXml(line)}</li>`)
    .join('');
  const first =
    commands === ''
      ? ''
      : `<section class="before"><h3>${OPENING_TITLE}</h3><ul class="todo">${commands}</ul></section>`;
  return `<h2>Morning list</h2>${first}${blocks.join('\n')}`;
}

function supplies(day: Day): string {
  if (day.supplies.length === 0) return '';
  const items = day.supplies.map(one => `<li>${escapeXml(supplyWords(one))}</li>`).join('');
  return `<h2>Over the day</h2><ul>${items}</ul>`;
}
