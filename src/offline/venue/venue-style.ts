/** What the page for the venue has besides the sheet's own style. The notice for the audience is to be read by many at a door: 20 points and more. */
export const VENUE_STYLE = `
.notice { display: flex; flex-direction: column; gap: 1.2mm; }
.notice h2 { font: 600 11.5pt/1.3 var(--serif); break-after: avoid; }
.notice p, .found li { overflow-wrap: anywhere; }
.notice p { break-inside: avoid; }
.found ul { margin: 0; padding-inline-start: 5mm; }
.found li { padding-bottom: 0.8mm; break-inside: avoid; }
.power th:nth-child(1) { width: 14%; }
.power .blank { border: 0.3mm solid #000; }
.lamps th:nth-child(n + 3) { width: auto; }
.modulation { margin: 0; }
.modulation svg { display: block; width: 100%; height: auto; }
.rates th:nth-child(1) { width: 20%; }
.rates th:nth-child(4) { width: 26%; }
.takes th:nth-child(1) { width: 22%; }
.takes th:nth-child(2) { width: 10%; }
.takes thead th { hyphens: auto; }
.for-audience { border: 1.4mm double #000; padding: 8mm 9mm; display: flex; flex-direction: column; gap: 7mm; }
.for-audience h2 { font-size: 34pt; font-style: normal; }
.for-audience h3 { font-size: 22pt; }
.for-audience p { font-size: 20pt; line-height: 1.3; }
.for-audience .over { font-size: 12pt; }
`
