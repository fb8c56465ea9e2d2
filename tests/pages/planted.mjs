// A page without a problem, and pages that each have one. A check that does not find its problem is broken.

const ROWS = Array.from({ length: 40 }, (_, row) => `<tr><th scope="row">Bench ${row}</th><td>7.0${row}<br>1<br>2<br>3<br>4</td></tr>`);

export const GOOD = `<!DOCTYPE html>
<html lang="en-GB"><head><meta charset="utf-8"><title>Class</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<style>@page{margin:12mm}:root{color-scheme:light dark;background:#fff;color:#000}h1,h2,caption{break-after:avoid}
tr,figure{break-inside:avoid}.wide{overflow-x:auto}.row{width:900px}
@media print{:focus-visible{outline:none}.wide{overflow:visible}.row{width:auto}}
@media screen and (prefers-color-scheme:dark){:root{background:#111;color:#eee}a{color:#9cf}}</style></head>
<body><main><h1>Class</h1><p>Go to the <a href="#benches">benches</a>. <bdi>שלום</bdi> 12 marks.</p>
<h2 id="benches">Benches</h2><table><caption>Water</caption>
<thead><tr><th scope="col">Bench</th><th scope="col">x</th></tr></thead><tbody>${ROWS.join('\n')}</tbody></table>
<div class="wide" role="region" tabindex="0" aria-label="Wide"><div class="row">A line that is wide on a screen.</div></div>
<figure><svg role="img" width="60" height="20" viewBox="0 0 60 20" aria-label="The benches A and B: x is 7.0 at both of them."><text y="15" fill="currentColor">A</text></svg>
</figure></main></body></html>`;

const planted = (name, from, to, check) => {
  if (!GOOD.includes(from)) throw new Error(`${name}: the page has no ${from}`);
  return [name, GOOD.replace(from, to), check];
};
const added = (name, html, check) => planted(name, '</main>', `${html}</main>`, check);
const styled = (name, style, check) => planted(name, '</style>', `${style}</style>`, check);

export const PLANTED = [
  styled('pale text', 'td{color:#999}', 'axe: 1280 px, light: color-contrast'),
  styled('pale text in the dark', '@media (prefers-color-scheme:dark){td{color:#444}}', 'axe: 320 px, dark: color-contrast'),
  planted('no language', ' lang="en-GB"', '', 'axe: 1280 px, light: html-has-lang'),
  planted('a header without scope', '<tr><th scope="row">Bench 3</th>', '<tr><td></td><th scope="wrong">Bench 3</th>', 'axe: 1280 px, light: '),
  planted('a silent picture', /aria-label="The[^"]*"/.exec(GOOD)[0], '', 'pictures: 1280 px, light: a picture'),
  planted('a picture of few words', /The benches[^"]*/.exec(GOOD)[0], 'Benches', 'pictures: 1280 px, light: a picture'),
  styled('a picture that is pale in the dark', 'text{fill:#000}', 'pictures: 1280 px, dark: the contrast'),
  styled('a picture that is too small', 'svg{width:30px}svg text{font-size:14px}', 'pictures: 1280 px, light: its smallest text'),
  planted('a region without the keyboard', ' tabindex="0"', '', 'narrow: 320 px, light: scrolls'),
  styled('no focus', '*{outline:none!important}', 'keyboard: the focus'),
  planted('another order', '<a href', '<a tabindex="2" href="#benches">on</a> <a tabindex="1" href', 'keyboard: the order'),
  planted('a link to nothing', '#benches', '#nothing', 'keyboard: #nothing'),
  added('a file of its own', '<p style="background:url(other.png)">Other</p>', 'alone: '),
  added('a script', '<script>window.harmed = true</script>', 'harmless: <script>'),
  added('an image', '<img alt="x" src="data:," onerror="window.harmed = true">', 'harmless: <img'),
  added('an error', '<script>missing()</script>', 'console: '),
  added('a wide page', '<p style="width:500px">Wide</p>', 'narrow: 320 px, light: '),
  added('text that is cut off', '<p style="width:3em;overflow:hidden;white-space:nowrap">Not all is seen.</p>', 'narrow: 320 px, light: cut off'),
  added('a broken word', '<p style="width:3em;overflow-wrap:anywhere">Dolomite</p>', 'whole: 320 px, dark: “Dolomite”'),
  added('a colour without a word', '<p style="background:#800;height:1em"></p>', 'words: 1280 px, light: '),
  planted('a line turned round', /<bdi>(.*)<\/bdi>/.exec(GOOD)[0], 'שלום', 'order: 1280 px, light: '),
  planted('a mark turned round', '</bdi>', ',</bdi>', 'order: 1280 px, light: the mark'),
  planted('words over words', '</text>', '</text><text x="3" y="16" fill="currentColor">B</text>', 'pictures: 1280 px, dark: “A” is over “B”'),
  styled('always light', ':root{background:#fff!important;color:#000!important}', 'dark: 1280 px, dark'),
  styled('dark on paper', ':root{background:#111!important;color:#eee!important}', 'print: in dark'),
  styled('cut rows', 'tr{break-inside:auto!important}', 'print: .*: on the pages'),
  styled('a heading alone', 'h2{margin-top:211mm;break-after:auto!important}', 'print: .*: on the pages 1 and 2: <h2>'),
  styled('a scrolling part on paper', '@media print{.wide{overflow:auto!important}.row{width:900px!important}}', 'print: A4: <div>'),
  styled('a focus on paper', '@media print{:focus-visible{outline:solid!important}}', 'print: .*the focus is printed'),
  styled('an empty page', 'main{break-after:page}main::after{content:"";display:block;break-before:page;height:1px}', 'print: A4: page'),
  styled('a part that is not printed', '@media print{figure{display:none}}', 'print: A4: not printed'),
];
