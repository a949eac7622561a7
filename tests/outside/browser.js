/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clicks the first name of every key, then moves over the plots; tells the page
 * that it is printed; leaves what it saw at the end of the document. */
var seen = [];
document.querySelectorAll('figure svg').forEach(function (svg, k) {
  var entry = svg.querySelector('[id$="_keyentry"]');
  if (!entry) { return; }
  var group = document.getElementById(entry.id.replace('_keyentry', ''));
  var shown = function () { return getComputedStyle(group).visibility; };
  var click = function () {
    entry.dispatchEvent(new MouseEvent('click', {bubbles: true}));
  };
  click(); var first = shown(); click();
  seen.push('key ' + k + ' ' + first + ' ' + shown());
  var box = svg.getBoundingClientRect();
  svg.dispatchEvent(new PointerEvent('pointermove', {bubbles: true,
    clientX: box.left + 0.55 * box.width, clientY: box.top + 0.3 * box.height}));
  svg.querySelectorAll('.readout text').forEach(function (text) {
    seen.push('read ' + k + ' ' + text.textContent);
  });
});
var folded = function () {
  return document.querySelectorAll('details:not([open])').length;
};
var lists = [folded()];
window.dispatchEvent(new Event('beforeprint'));
lists.push(folded());
window.dispatchEvent(new Event('afterprint'));
lists.push(folded());
seen.push('folded ' + lists.join(' '));
var pre = document.createElement('pre');
pre.textContent = '[[[\n' + seen.join('\n') + '\n]]]';
document.body.appendChild(pre);
