/** Black ink on white paper, A4 and Letter alike: nothing has a fixed width but the margins. */
export const PAGE_STYLE = `
:root { color-scheme: light; --serif: 'Literata', Georgia, 'Times New Roman', serif; }
@page { margin: 15mm 13mm 17mm; @bottom-center { content: counter(page) ' / ' counter(pages); font: 9pt Georgia, serif; } }
* { box-sizing: border-box; }
body { margin: 0; background: #fff; color: #000; font: 11pt/1.4 'Atkinson Hyperlegible Next', system-ui, sans-serif; }
h1, h2, h3, p, dl, dd, table { margin: 0; }
h1, h2, h3, th, td, p, dd { overflow-wrap: anywhere; }
h1, h2 { font-family: var(--serif); font-weight: 500; line-height: 1.15; }
h1 { font-size: 26pt; }
h2 { font-size: 22pt; font-style: italic; }
h3, caption { font: 600 12pt/1.3 var(--serif); text-align: start; }
h3 { break-after: avoid; }
caption { padding: 0 0 1.5mm; break-after: avoid; }
.plate { max-width: 184mm; margin: 0 auto; padding: 8mm 5mm; display: flex; flex-direction: column; gap: 6mm; }
.plate + .plate { border-top: 0.3mm solid #000; }
.label { border: 1.4mm double #000; padding: 5mm 6mm; display: flex; justify-content: space-between; gap: 6mm; }
.label > div { min-width: 0; flex: 1; display: flex; flex-direction: column; gap: 2.5mm; }
.over { font-size: 9.5pt; letter-spacing: 0.06em; text-transform: uppercase; }
.sprig { flex: none; width: 15mm; height: 30mm; }
dl { display: grid; grid-template-columns: max-content minmax(0, 1fr); gap: 0.6mm 4mm; }
dt { font-family: var(--serif); font-style: italic; }
dd { min-width: 0; }
.notes { border-inline-start: 0.8mm solid #000; padding-inline-start: 4mm; font-size: 13pt; white-space: pre-line; }
table { width: 100%; border-collapse: collapse; font-size: 10pt; font-variant-numeric: tabular-nums; }
thead { display: table-header-group; }
thead th { border-block: 0.3mm solid #000; font-size: 9pt; font-weight: 400; font-style: italic; font-family: var(--serif); }
th, td { padding: 1.1mm 2.2mm 1.1mm 0; text-align: start; vertical-align: top; }
tbody th { font-weight: 600; }
tbody tr, tfoot tr { border-bottom: 0.15mm solid #000; break-inside: avoid; }
tfoot th, tfoot td { border-top: 0.3mm solid #000; font-weight: 600; }
.set-list { font-size: 13pt; }
.set-list thead th { font-size: 10pt; }
.set-list .title { font-family: var(--serif); font-style: italic; font-size: 15pt; }
.figure { text-align: end; white-space: nowrap; padding-inline-end: 4mm; }
.aside { font-size: 10pt; font-weight: 400; }
.skipped .title { text-decoration: line-through; }
.cautions { display: flex; flex-direction: column; gap: 2.5mm; border: 1.4mm double #000; padding: 5mm 6mm; }
.cautions p { break-inside: avoid; }
@media (max-width: 600px) { dl { grid-template-columns: 1fr; } dd { padding-inline-start: 4mm; } }
@media print {
  .plate { max-width: none; padding: 0; break-after: page; display: block; }
  .plate > * + * { margin-top: 6mm; }
  .plate + .plate { border-top: 0; }
  .plate:last-child { break-after: auto; }
  .label { break-inside: avoid; }
}
`
