/** The look of the day page: black on white and safe to print so; one column on a phone, two on paper. */
export const DAY_STYLE = `
:root { font: 16px/1.4 system-ui, sans-serif; color: #000; background: #fff; }
body { margin: 0 auto; padding: 1rem; max-width: 60rem; }
h1 { font-size: 1.6rem; margin: 0; }
h2 { font-size: 1.2rem; margin: 1.5rem 0 .5rem; border-bottom: 2px solid #000; break-after: avoid; }
h3 { font-size: 1rem; margin: 0 0 .25rem; overflow-wrap: anywhere; }
h3 small { font-weight: normal; }
.where { margin: 0 0 1rem; }
.number { display: inline-block; min-width: 1.5em; text-align: center; border: 1px solid #000; border-radius: .3em; }
.stop { border: 2px solid #b00000; padding: .4rem .6rem; margin: .5rem 0; overflow-wrap: anywhere; }
.stop strong { color: #b00000; }
section.stop p, section.stop ul { margin: .2rem 0; }
article { border: 1px solid #666; padding: .5rem .7rem; margin: 0 0 .5rem; break-inside: avoid; }
dl { display: grid; grid-template-columns: 5rem 1fr; margin: 0; }
dt { color: #333; }
dd { margin: 0; overflow-wrap: anywhere; }
.timeline .row { display: flex; align-items: stretch; margin: 0 0 3px; }
.timeline .name { flex: 0 0 6.5rem; font-size: .8rem; line-height: 1.6rem; overflow: hidden; text-overflow: ellipsis; white-space: nowrap; }
.timeline .track { position: relative; flex: 1; height: 1.6rem; border-left: 1px solid #999; border-bottom: 1px solid #ccc; }
.timeline .hours .track { border: 0; height: 1.2rem; }
.timeline .hours .track span { position: absolute; font-size: .75rem; }
.timeline b { position: absolute; top: 2px; bottom: 2px; box-sizing: border-box; border: 1.5px solid #000; background: #e8e8e8; font-size: .8rem; line-height: 1.2rem; text-align: center; white-space: nowrap; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
.timeline .rest { position: absolute; top: 50%; border-top: 2px dotted #000; }
ul { margin: .2rem 0; padding-left: 1.2rem; overflow-wrap: anywhere; }
.todo { list-style: none; padding-left: 0; }
.todo li { padding-left: 1.6rem; text-indent: -1.6rem; margin: .15rem 0; }
.todo li::before { content: ""; display: inline-block; width: .8em; height: .8em; border: 1.5px solid #000; margin-right: .6rem; vertical-align: -.1em; }
.before { break-inside: avoid; margin: 0 0 .7rem; }
footer { margin-top: 1.5rem; border-top: 1px solid #000; font-size: .8rem; }
@media print { @page { size: A4; margin: 12mm; } :root { font-size: 11px; } body { padding: 0; max-width: none; } .cases { columns: 2; column-gap: .5rem; } }
`;
