/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads values off the plots and switches curves off, in the page and in a picture opened
 * alone. Works on what gnuplot writes: each curve a group "..._plot_1a", its key's words in
 * a group "..._plot_1a_keyentry"; "panel" lines in <metadata> say where the axes lie
 * (plots/style.gp). Without it the pictures are plain ones. */
(function () {
  'use strict';
  var NS = 'http://www.w3.org/2000/svg';

  function panelsOf(svg) {
    var data = svg.querySelector('metadata');
    var lines = data ? data.textContent.split('\n') : [];
    return lines.filter(function (line) {
      return line.indexOf('panel ') === 0;
    }).map(function (line) {
      var word = line.trim().split(' ');
      var n = word.map(Number);
      return {
        kind: word[1], left: n[2], right: n[3], bottom: n[4], top: n[5],
        x0: n[6], x1: n[7], y0: n[8], y1: n[9], unit: word.slice(10).join(' ')
      };
    });
  }

  /* Runs of points of a path or polygon. */
  function runsOf(shape) {
    var text = shape.getAttribute('d') || 'M' + (shape.getAttribute('points') || '');
    return text.split('M').map(function (run) {
      var n = (run.match(/-?\d+(\.\d+)?/g) || []).map(Number);
      var points = [];
      for (var i = 0; i + 1 < n.length; i += 2) {
        points.push([n[i], n[i + 1]]);
      }
      return points;
    });
  }

  function inside(panel, point) {
    return point[0] >= panel.left - 1 && point[0] <= panel.right + 1 &&
      point[1] >= panel.top - 1 && point[1] <= panel.bottom + 1;
  }

  function curvesOf(svg, panels) {
    var curves = [];
    svg.querySelectorAll('[id$="_keyentry"]').forEach(function (entry) {
      var words = entry.querySelector('text');
      var group = document.getElementById(entry.id.replace(/_keyentry$/, ''));
      if (!words || !group) {
        return;
      }
      var curve = {name: words.textContent, group: group, entry: entry, panel: null, runs: []};
      group.querySelectorAll('path, polygon').forEach(function (shape) {
        var filled = shape.localName === 'polygon';
        runsOf(shape).forEach(function (run) {
          var panel = panels.find(function (p) {
            return run.length > 1 && inside(p, run[0]) && filled === (p.kind === 'stack');
          });
          if (panel) {
            curve.panel = panel;
            curve.runs.push(run);
          }
        });
      });
      curves.push(curve);
    });
    return curves;
  }

  /* Heights at which a run of points crosses the line at x. */
  function crossings(run, x, closed) {
    var found = [];
    for (var i = closed ? 0 : 1; i < run.length; i++) {
      var a = run[i ? i - 1 : run.length - 1];
      var b = run[i];
      if ((a[0] <= x && x < b[0]) || (b[0] <= x && x < a[0])) {
        found.push(a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0]));
      }
    }
    return found;
  }

  function valueAt(curve, x) {
    var panel = curve.panel;
    var scale = (panel.y1 - panel.y0) / (panel.top - panel.bottom);
    var stacked = panel.kind === 'stack';
    for (var i = 0; i < curve.runs.length; i++) {
      var y = crossings(curve.runs[i], x, stacked);
      if (stacked && Math.min.apply(null, y) < panel.top + 0.5) {
        return null; /* cut off: its height cannot be read */
      }
      if (stacked && y.length > 1) {
        return Math.abs(Math.max.apply(null, y) - Math.min.apply(null, y)) *
          Math.abs(scale);
      }
      if (!stacked && y.length > 0) {
        return panel.y0 + (y[y.length - 1] - panel.bottom) * scale;
      }
    }
    return null;
  }

  function hidden(curve) {
    return curve.group.getAttribute('visibility') === 'hidden';
  }

  function toggle(curve) {
    var hide = !hidden(curve);
    curve.group.setAttribute('visibility', hide ? 'hidden' : 'visible');
    curve.entry.setAttribute('opacity', hide ? '0.4' : '1');
    curve.entry.setAttribute('aria-pressed', hide ? 'false' : 'true');
  }

  function listenToKey(curve) {
    var entry = curve.entry;
    entry.style.cursor = 'pointer';
    entry.setAttribute('role', 'button');
    entry.setAttribute('aria-pressed', 'true');
    entry.setAttribute('tabindex', '0');
    entry.addEventListener('click', function () {
      toggle(curve);
    });
    entry.addEventListener('keydown', function (event) {
      if (event.key === 'Enter' || event.key === ' ') {
        event.preventDefault();
        toggle(curve);
      }
    });
  }

  function add(parent, name, attributes, words) {
    var element = document.createElementNS(NS, name);
    Object.keys(attributes).forEach(function (key) {
      element.setAttribute(key, attributes[key]);
    });
    element.textContent = words || '';
    parent.appendChild(element);
    return element;
  }

  /* Digits that a step of a pixel can show. */
  function decimals(panel) {
    var step = Math.abs((panel.y1 - panel.y0) / (panel.bottom - panel.top));
    return Math.max(0, Math.min(6, Math.ceil(-Math.log10(step))));
  }

  function linesAt(curves, panel, x) {
    var day = panel.x0 + (x - panel.left) / (panel.right - panel.left) *
      (panel.x1 - panel.x0);
    var lines = ['day ' + day.toFixed(1) + (panel.unit ? ' (' + panel.unit + ')' : '')];
    curves.forEach(function (curve) {
      var value = curve.panel === panel && !hidden(curve) ? valueAt(curve, x) : null;
      if (value !== null) {
        lines.push(curve.name + '  ' + value.toFixed(decimals(panel)));
      }
    });
    return lines;
  }

  function draw(board, panel, x, lines) {
    board.textContent = '';
    add(board, 'path', {d: 'M' + x + ',' + panel.top + 'V' + panel.bottom,
                        stroke: '#000', 'stroke-width': 1, fill: 'none'});
    var box = add(board, 'rect', {fill: '#fff', stroke: '#707070', opacity: 0.94, rx: 3});
    var wide = 0;
    var texts = lines.map(function (line, i) {
      var text = add(board, 'text', {'font-family': 'sans-serif', 'font-size': 13,
                                     y: panel.top + 20 + 17 * i}, line);
      wide = Math.max(wide, text.getComputedTextLength());
      return text;
    });
    var left = x < (panel.left + panel.right) / 2 ? x + 10 : x - wide - 26;
    box.setAttribute('x', left);
    box.setAttribute('y', panel.top + 4);
    box.setAttribute('width', wide + 16);
    box.setAttribute('height', 17 * lines.length + 8);
    texts.forEach(function (text) {
      text.setAttribute('x', left + 8);
    });
  }

  function setUp(svg) {
    var panels = panelsOf(svg);
    var curves = curvesOf(svg, panels);
    curves.forEach(listenToKey);
    if (panels.length === 0) {
      return;
    }
    var board = add(svg, 'g', {'pointer-events': 'none', 'class': 'readout'});
    svg.addEventListener('pointermove', function (event) {
      var at = svg.createSVGPoint();
      at.x = event.clientX;
      at.y = event.clientY;
      at = at.matrixTransform(svg.getScreenCTM().inverse());
      var panel = panels.find(function (p) {
        return inside(p, [at.x, at.y]);
      });
      if (panel) {
        draw(board, panel, at.x, linesAt(curves, panel, at.x));
      } else {
        board.textContent = '';
      }
    });
    svg.addEventListener('pointerleave', function () {
      board.textContent = '';
    });
  }

  /* On paper nothing can be unfolded. */
  var folded = [];
  window.addEventListener('beforeprint', function () {
    folded = Array.prototype.slice.call(document.querySelectorAll('details:not([open])'));
    folded.forEach(function (part) {
      part.open = true;
    });
  });
  window.addEventListener('afterprint', function () {
    folded.forEach(function (part) {
      part.open = false;
    });
  });

  document.documentElement.classList.add('live');
  document.querySelectorAll('svg').forEach(setUp);
}());
