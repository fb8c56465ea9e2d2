// What is asked of a page from within. Each function runs in the browser, and returns its problems.

// Nothing in a text of other people has become part of the page.
export function harmless() {
  const selector = 'script, img, iframe, object, embed, link, base, form, [style*="url("]';
  const problems = [...document.querySelectorAll(selector)].map((found) => `<${found.localName}>`);
  for (const element of document.querySelectorAll('*')) {
    const events = element.getAttributeNames().filter((name) => name.startsWith('on'));
    problems.push(...events.map((name) => `<${element.localName} ${name}>`));
  }
  if (window.harmed) problems.push('a script of a name was run');
  return problems;
}

// No text is hidden to the side, and the page itself does not scroll sideways.
export function narrow() {
  const root = document.documentElement;
  const problems = [];
  const show = (e) => `<${e.localName}> ${e.textContent.trim().slice(0, 40)}`;
  if (root.scrollWidth > root.clientWidth) {
    const wide = [...document.body.querySelectorAll('*')].filter((element) => {
      const region = element.parentElement.closest('[tabindex="0"]');
      return !region && element.getBoundingClientRect().right > root.clientWidth + 1;
    });
    problems.push(`${root.scrollWidth} px wide: ${wide.slice(-1).map(show)}`);
  }
  for (const element of document.body.querySelectorAll('*')) {
    const style = getComputedStyle(element);
    const cut = element.scrollWidth > element.clientWidth + 1;
    if (!cut || element.clientWidth <= 1) continue;
    if (['hidden', 'clip'].includes(style.overflowX)) problems.push(`cut off: ${show(element)}`);
    const scrolls = ['auto', 'scroll'].includes(style.overflowX);
    if (scrolls && element.tabIndex < 0) problems.push(`scrolls, but not by keyboard: ${show(element)}`);
  }
  return problems;
}

// No short word is broken.
export function whole() {
  const problems = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    if (node.parentElement.closest('svg, style')) continue;
    for (const match of node.data.matchAll(/(?<=^|\s)\p{L}{2,12}(?=[\s.,:]|$)/gu)) {
      const range = document.createRange();
      range.setStart(node, match.index);
      range.setEnd(node, match.index + match[0].length);
      const lines = new Set([...range.getClientRects()].map((rect) => Math.round(rect.top)));
      if (lines.size > 1) problems.push(`“${match[0]}” is broken: ${node.data.trim().slice(0, 40)}`);
    }
  }
  return problems;
}

// On paper nothing scrolls, and nothing has the focus.
export function onPaper() {
  const wide = [...document.querySelectorAll('*')].filter((element) => {
    const scrolls = getComputedStyle(element).overflowX !== 'visible' || element === document.documentElement;
    return scrolls && element.scrollWidth > element.clientWidth + 1;
  });
  const problems = wide.map((e) => `<${e.localName}> is ${e.scrollWidth} px wide and ${e.clientWidth} px are printed`);
  const focus = document.querySelector(':focus-visible');
  if (focus && getComputedStyle(focus).outlineStyle !== 'none') problems.push('the focus is printed');
  return problems;
}

// What a colour says, a word says too.
export function inWords() {
  const problems = [];
  const grey = (colour) => {
    const [r, g, b, alpha = 1] = colour.match(/[\d.]+/g).map(Number);
    return alpha === 0 || Math.max(r, g, b) - Math.min(r, g, b) < 12;
  };
  for (const element of document.body.querySelectorAll(':not(svg, svg *)')) {
    const named = element.textContent.trim() || element.getAttribute('aria-label') || element.querySelector('svg');
    if (!named && !grey(getComputedStyle(element).backgroundColor)) {
      problems.push(`<${element.localName} class="${element.className}"> has a colour and no word`);
    }
  }
  return problems;
}

// Each picture says what it shows, and its texts can be read.
export function pictures() {
  const problems = [];
  const brightness = (colour) => {
    const [r, g, b, alpha = 1] = colour.match(/[\d.]+/g).map(Number);
    const linear = [r, g, b].map((c) => (c / 255 <= 0.04045 ? c / 255 / 12.92 : ((c / 255 + 0.055) / 1.055) ** 2.4));
    return alpha === 0 ? null : 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
  };
  const under = (svg) => {
    const first = svg.querySelector('rect');
    const whole = first && first.getBoundingClientRect().width > 0.95 * svg.getBoundingClientRect().width;
    const colours = whole ? [getComputedStyle(first).fill] : [];
    for (let one = svg; one; one = one.parentElement) colours.push(getComputedStyle(one).backgroundColor);
    return colours.map((colour) => (colour === 'none' ? null : brightness(colour))).find((value) => value !== null) ?? 1;
  };
  for (const svg of document.querySelectorAll('svg')) {
    const label = svg.getAttribute('aria-labelledby') || '';
    const texts = label.split(/\s+/).map((id) => id && document.getElementById(id)?.textContent);
    const words = [svg.getAttribute('aria-label'), svg.querySelector(':scope > title')?.textContent, ...texts];
    const said = words.filter(Boolean).join(' ');
    if (svg.getAttribute('aria-hidden') === 'true') continue;
    if (svg.getAttribute('role') !== 'img') problems.push('a picture without the role img');
    const paper = under(svg);
    let smallest = Infinity;
    for (const text of svg.querySelectorAll('text')) {
      const ink = brightness(getComputedStyle(text).fill);
      const contrast = (Math.max(ink, paper) + 0.05) / (Math.min(ink, paper) + 0.05);
      const height = parseFloat(getComputedStyle(text).fontSize) * (text.getScreenCTM()?.d ?? 1);
      if (contrast < 4.5) problems.push(`the contrast of “${text.textContent.trim()}” is ${contrast.toFixed(1)}`);
      // A turned text has no height of its own; the others of its picture have.
      if (height > 0.1) smallest = Math.min(smallest, height);
    }
    const boxes = [...svg.querySelectorAll('text')].map((text) => [text.textContent.trim(), text.getBoundingClientRect()]);
    boxes.forEach(([words, a], index) => boxes.slice(index + 1).forEach(([others, b]) => {
      const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      // The box of a line of text has empty space above and below the letters.
      if (across > 1 && down > 0.4 * Math.min(a.height, b.height)) problems.push(`“${words}” is over “${others}”`);
    }));
    if (smallest < 9) problems.push(`its smallest text is only ${smallest.toFixed(1)} px high: ${said.slice(0, 40)}`);
    if (said.length < 40) problems.push(`a picture says only “${said}”`);
  }
  return problems;
}

// The page follows light and dark.
export function brightness() {
  const value = (colour) => {
    const [r, g, b, alpha = 1] = colour.match(/[\d.]+/g).map(Number);
    return alpha === 0 ? null : (0.2126 * r + 0.7152 * g + 0.0722 * b) / 255;
  };
  const [body, root] = [document.body, document.documentElement].map((e) => getComputedStyle(e));
  const paper = value(body.backgroundColor) ?? value(root.backgroundColor);
  return { text: value(body.color), paper, scheme: root.colorScheme };
}

// What the Tab key must reach, and links within the page that lead nowhere.
export function reachable() {
  const all = [...document.querySelectorAll('a[href], button, summary, input, [tabindex]')];
  const stops = all.filter((element) => element.tabIndex >= 0 && element.getClientRects().length > 0);
  stops.forEach((element, index) => { element.dataset.stop = index; });
  const lost = all.filter((element) => {
    const to = element.getAttribute('href');
    return to?.startsWith('#') && !document.getElementById(decodeURIComponent(to.slice(1)));
  });
  return { count: stops.length, lost: lost.map((element) => `${element.getAttribute('href')} leads nowhere`) };
}

export function focused() {
  const element = document.activeElement;
  const style = getComputedStyle(element);
  const seen = style.outlineStyle !== 'none' || style.boxShadow !== 'none';
  return { stop: Number(element.dataset.stop ?? -1), seen, name: element.textContent.slice(0, 40) };
}

// Words stand in the order in which they are read, although some are written from right to left.
export function inOrder() {
  const rightToLeft = /[\u0590-\u08ff\ufb1d-\ufefc]/;
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const blockOf = (node) => {
    let element = node.parentElement;
    while (element.parentElement && getComputedStyle(element).display === 'inline') element = element.parentElement;
    return element;
  };
  const names = [...document.querySelectorAll('bdi')].map((name) => name.textContent);
  const turned = names.filter((name) => rightToLeft.test(name) && /[,;:.]$/.test(name));
  const problems = turned.map((name) => `the mark after a name is turned with it: ${name}`);
  let last = null;
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    if (node.parentElement.closest('svg, style')) continue;
    for (const match of node.data.matchAll(/[^\s]+/g)) {
      const word = { text: match[0], node, from: match.index, block: blockOf(node) };
      const isTurned = [last, word].some((one) => one && rightToLeft.test(one.text));
      const name = node.parentElement.closest('bdi');
      const together = last && last.block === word.block && !(name && last.node.parentElement.closest('bdi') === name);
      if (isTurned && together) {
        // A long word is in pieces on several lines.
        const [before, after] = [[last, -1], [word, 0]].map(([one, piece]) => {
          const range = document.createRange();
          range.setStart(one.node, one.from);
          range.setEnd(one.node, one.from + one.text.length);
          return [...range.getClientRects()].at(piece);
        });
        const bothTurned = [last, word].every((one) => rightToLeft.test(one.text));
        const sameLine = Math.abs(before.bottom - after.bottom) < before.height / 2;
        if (sameLine && !bothTurned && after.left < before.right - 1) {
          problems.push(`“${word.text}” is left of “${last.text}”: ${word.block.textContent.trim().slice(0, 60)}`);
        }
      }
      last = word;
    }
  }
  return problems;
}

// Marks the beginning and the end of whatever must be on one sheet of paper, with words that the text of
// the PDF contains. A heading ends where what it is the heading of begins.
export function markUnits(selector) {
  const names = [];
  const mark = (element, corner, text) => {
    const place = element.localName === 'tr' ? element.cells[0] : element;
    if (getComputedStyle(element).position === 'static') element.style.position = 'relative';
    const span = document.createElement('span');
    span.textContent = text;
    span.style.cssText = `position:absolute;${corner}:0;left:0;font:1px/1 sans-serif;color:#777;white-space:nowrap`;
    place.append(span);
  };
  const unit = (first, last, corner) => {
    const number = names.push(`<${first.localName}> ${first.textContent.trim().replace(/\s+/g, ' ').slice(0, 50)}`);
    mark(first, 'top', `~${number}a~`);
    mark(last, corner, `~${number}b~`);
  };
  const next = (heading) => {
    let element = heading;
    do {
      while (element && !element.nextElementSibling) element = element.parentElement;
      element = element?.nextElementSibling;
    } while (element && element.getClientRects().length === 0);
    const first = element?.querySelector('tbody tr, li, p, figure');
    return element?.matches('p, figure, h1, h2, h3, h4') ? element : first ?? element;
  };
  const units = [...document.querySelectorAll(selector)].map((element) => [element, element, 'bottom']);
  for (const heading of document.querySelectorAll('h1, h2, h3, h4, caption')) {
    const following = heading.localName === 'caption'
      ? heading.parentElement.querySelector('tbody tr') : next(heading);
    if (following) units.push([heading, following, 'top']);
  }
  units.forEach(([first, last, corner]) => unit(first, last, corner));
  return names;
}
