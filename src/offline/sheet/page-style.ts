/** Black ink on white paper, A4 and Letter alike: nothing has a fixed width but the margins. */
export const PAGE_STYLE = `
:root { color-scheme: light; --serif: 'Literata', Georgia, 'Times New Roman', serif; }
@page {
  margin: 13mm 13mm 15mm;
  @bottom-center { content: counter(page) ' / ' counter(pages); font: 9pt Georgia, serif; }
}
* { box-sizing: border-box; }
body {
  margin: 0; background: #fff; color: #000;
  font: 10.5pt/1.35 'Atkinson Hyperlegible Next', Arial, 'Liberation Sans', sans-serif;
}
h1, h2, h3, p, dl, dd, table { margin: 0; }
h1, h2, h3, th, td, p, dd { overflow-wrap: anywhere; }
h1, h2 { font-family: var(--serif); font-weight: 500; line-height: 1.15; }
h1 { font-size: 26pt; }
h2 { font-size: 21pt; font-style: italic; }
h3, caption { font: 600 11.5pt/1.3 var(--serif); text-align: start; padding: 0 0 1mm; break-after: avoid; }

.plate {
  max-width: 184mm; margin: 0 auto; padding: 8mm 5mm;
  display: flex; flex-direction: column; gap: 5mm;
}
.plate + .plate { border-top: 0.3mm solid #000; }
.label {
  border: 1.4mm double #000; padding: 3mm 5mm; break-inside: avoid;
  display: flex; justify-content: space-between; gap: 5mm;
}
.label > div { min-width: 0; flex: 1; display: flex; flex-direction: column; gap: 2mm; }
.over { font-size: 9pt; letter-spacing: 0.06em; text-transform: uppercase; }
.sprig { flex: none; width: 14mm; height: 28mm; }
dl { columns: 2; column-gap: 6mm; }
dl > div { display: flex; gap: 3mm; break-inside: avoid; padding-bottom: 0.6mm; }
dt { flex: none; width: 17mm; font-family: var(--serif); font-style: italic; }
dd { flex: 1; min-width: 0; }
.notes { border-inline-start: 0.8mm solid #000; padding-inline-start: 4mm; font-size: 12pt; white-space: pre-line; }
.aside { font-size: 9.5pt; font-weight: 400; }

table {
  width: 100%; table-layout: fixed; border-collapse: collapse;
  font-size: 9.25pt; line-height: 1.25; font-variant-numeric: tabular-nums;
}
thead { display: table-header-group; }
thead th { border-block: 0.3mm solid #000; font: italic 400 9pt/1.3 var(--serif); }
th, td { padding: 0.6mm 2mm 0.6mm 0; text-align: start; vertical-align: top; }
tbody th { font-weight: 600; }
tbody tr, tfoot tr { border-bottom: 0.15mm solid #000; break-inside: avoid; }
tfoot th, tfoot td { border-top: 0.3mm solid #000; font-weight: 600; }

.set-list { font-size: 13pt; }
.set-list th, .set-list td { padding-block: 1.4mm; }
.set-list .title { font: italic 500 15pt/1.2 var(--serif); }
.set-list .skipped .title { text-decoration: line-through; }
.set-list .figure { width: 14%; text-align: end; padding-inline-end: 4mm; }
.parts th:nth-child(1) { width: 10%; }
.parts th:nth-child(2) { width: 9%; }
.parts th:nth-child(4) { width: 12%; }
.parts th:nth-child(5) { width: 10%; }
.parts th:nth-child(6) { width: 15%; }
.parts th:nth-child(7) { width: 13%; }
.ways th:nth-child(1), .controls th:nth-child(1) { width: 20%; }
.controls th:nth-child(2) { width: 34%; }
.lamps th:nth-child(1) { width: 28%; }
.lamps th:nth-child(2) { width: 18%; }
.lamps th, .lamps td { padding-block: 0.4mm; }

.cautions { display: flex; flex-direction: column; gap: 2mm; border: 1.4mm double #000; padding: 3.5mm 5mm; }
.cautions p { break-inside: avoid; }

@media screen and (max-width: 600px) { dl { columns: 1; } }
@media print {
  .plate { max-width: none; padding: 0; break-after: page; display: block; }
  .plate > * + * { margin-top: 3.5mm; }
  .plate + .plate { border-top: 0; }
  .plate:last-child { break-after: auto; }
}
`
