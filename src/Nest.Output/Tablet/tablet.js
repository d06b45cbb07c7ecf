(function () {
  'use strict';
  var body = document.body, words = body.dataset, plan = words.plan;
  var byId = function (id) { return document.getElementById(id); };
  var list = function (selector, from) { return Array.prototype.slice.call((from || document).querySelectorAll(selector)); };
  var fill = function (text, values) { return text.replace(/\{(\d)(?::00)?\}/g, function (all, at) { var value = String(values[at]); return all.length > 3 && value.length < 2 ? '0' + value : value; }); };
  var steps = list('.step').map(function (node) {
    return { id: node.id, node: node, group: node.closest('.group'), most: +node.dataset.count, each: +node.dataset.each, tally: node.querySelector('.tally') };
  });
  var groups = list('.group').map(function (node) {
    return { node: node, steps: steps.filter(function (step) { return step.group === node; }), minutes: +node.dataset.minutes, svg: node.querySelector('svg'), zoom: node.querySelector('.zoom'), state: node.querySelector('.state'), head: node.querySelector('.head') };
  });
  var groupOf = function (step) { return groups.filter(function (group) { return group.node === step.group; })[0]; };
  var keep = function (key, value) { try { localStorage.setItem('nest-' + plan + key, JSON.stringify(value)); } catch (e) { /* forbidden here: lasts until the page is closed */ } };
  var kept = function (key, other) { try { return JSON.parse(localStorage.getItem('nest-' + plan + key)) || other; } catch (e) { return other; } };
  var number = function (value) { return typeof value === 'number' && value > 0 ? Math.floor(value) : 0; };

  // The first store: this browser's own.
  function ownStore() {
    var counts = kept('', {});
    if (typeof counts !== 'object') { counts = {}; }
    return {
      count: function (id) { return number(counts[id]); },
      add: function (id, by) { counts[id] = number(counts[id]) + by; keep('', counts); }
    };
  }

  // The second: the desk. A tick has a name made here; it waits here until the desk has told that it is booked, and counts once however often it is sent.
  function deskStore(address) {
    var known = kept('-known', {}), waiting = kept('-waiting', []), busy = false, timer = 0;
    if (!Array.isArray(waiting)) { waiting = []; }
    function name() {
      var bytes = new Uint8Array(16);
      crypto.getRandomValues(bytes);
      return Array.prototype.map.call(bytes, function (byte) { return (byte + 256).toString(16).slice(1); }).join('');
    }
    function later(ms) { clearTimeout(timer); timer = setTimeout(talk, ms); }
    function talk() {
      if (busy) { return; }
      busy = true;
      var sent = waiting.slice(0, 200);
      fetch(address, sent.length ? { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(sent) } : {}).then(function (answer) {
        if (!answer.ok) { throw new Error(answer.status === 401 || answer.status === 403 ? 'out' : 'later'); }
        return answer.json();
      }).then(function (told) {
        busy = false;
        var gone = {};
        sent.forEach(function (tick) { gone[tick.id] = true; });
        waiting = waiting.filter(function (tick) { return !gone[tick.id]; });
        known = told.counts;
        keep('-waiting', waiting);
        keep('-known', known);
        if (told.messages.length || said.indexOf(words.waiting.slice(3)) >= 0) { tell(told.messages.join(' ')); }
        note(told.notes);
        show();
        later(waiting.length ? 0 : 4000);
      }).catch(function (problem) {
        busy = false;
        tell(problem.message === 'out' ? words.out : waiting.length ? fill(words.waiting, [waiting.length]) : '');
        later(3000);
      });
    }
    window.addEventListener('online', function () { later(0); });
    later(0);
    return {
      count: function (id) { return Math.max(0, waiting.reduce(function (sum, tick) { return tick.step === id ? sum + tick.add : sum; }, number(known[id]))); },
      add: function (id, by) { waiting.push({ id: name(), step: id, add: by }); keep('-waiting', waiting); later(150); }
    };
  }

  // What the desk tells of a step: the mark that an offcut got.
  function note(notes) {
    steps.forEach(function (step) {
      var told = step.node.querySelector('.told'), text = notes[step.id];
      if (!text) { if (told) { told.remove(); } return; }
      if (!told) { told = document.createElement('p'); told.className = 'told'; step.node.querySelector('.what').appendChild(told); }
      told.textContent = text;
    });
  }

  var said = '', undo = null;
  function tell(text) { if (text !== said) { said = text; showTold(); } }
  var store = words.desk ? deskStore(words.desk) : ownStore();
  var done = function (step) { return Math.min(step.most, store.count(step.id)); };
  var isDone = function (step) { return done(step) >= step.most; };
  var here = null, enlarged = false;

  function add(step, by) {
    var wanted = Math.max(0, Math.min(step.most, done(step) + by));
    if (wanted !== store.count(step.id)) { store.add(step.id, wanted - store.count(step.id)); }
  }
  function change(step, by) { undo = null; said = ''; add(step, by); show(); }
  function changeAll(changes, text) {
    var before = changes.map(function (one) { return { step: one.step, was: done(one.step) }; });
    changes.forEach(function (one) { add(one.step, one.to - done(one.step)); });
    undo = { text: text, back: function () { before.forEach(function (one) { add(one.step, one.was - done(one.step)); }); undo = null; show(); } };
    show();
  }

  function time(minutes) { var whole = Math.ceil(minutes); return whole < 60 ? fill(words.minutes, [whole]) : fill(words.hours, [Math.floor(whole / 60), whole % 60]); }
  function firstOpen(group) { return group.steps.filter(function (step) { return !isDone(step); })[0]; }
  function ready(group) { return !firstOpen(group); }

  function showTold() {
    var text = undo ? undo.text : said;
    byId('tell').hidden = !text;
    byId('tell').querySelector('span').textContent = text;
    byId('undo').hidden = !undo;
  }

  function show() {
    var spent = 0, all = 0, open = 0;
    groups.forEach(function (group) {
      var share = 0, sum = 0;
      group.steps.forEach(function (step) {
        var count = done(step);
        share += count;
        sum += step.most;
        step.node.classList.toggle('ready', count >= step.most);
        step.tally.textContent = step.most === 1 ? (count ? '✓' : '□') : fill(words.count, [count, step.most]);
        if (count < step.most) { open++; }
      });
      spent += group.minutes * share / sum;
      all += group.minutes;
      group.state.textContent = ready(group) ? '✓ ' + words.done : '';
    });
    byId('time').textContent = fill(words.spent, [time(spent), time(all)]);
    if (!open) { said = words.finished; }
    showTold();
    if (here && body.classList.contains('one')) { showOne(); }
  }

  function showOne() {
    var group = groupOf(here), at = group.steps.indexOf(here), count = done(here), open = firstOpen(group), place = steps.indexOf(here);
    groups.forEach(function (one) { one.node.classList.toggle('here', one === group); });
    steps.forEach(function (step) { step.node.classList.toggle('here', step === here); });
    byId('where').textContent = fill(words.step, [at + 1, group.steps.length]);
    var shown = byId('count');
    shown.textContent = here.most === 1 ? (count ? '✓' : '') : fill(words.count, [count, here.most]);
    if (group.node.dataset.form && here.each < here.most && count < here.most) {
      var piece = document.createElement('small');
      piece.textContent = fill(words.piece, [group.node.dataset.form, Math.floor(count / here.each) + 1, here.most / here.each]);
      shown.appendChild(piece);
    }
    byId('counter').classList.toggle('once', here.most === 1);
    byId('more').textContent = here.most === 1 ? '✓' : '+1';
    byId('more').disabled = byId('all').disabled = count >= here.most;
    byId('less').disabled = count === 0;
    byId('back').disabled = place === 0;
    byId('next').disabled = place === steps.length - 1;
    byId('next').classList.toggle('go', count >= here.most);
    byId('first').disabled = !open || open === here;
    byId('first').textContent = open && open !== here ? fill(words.open, [group.steps.indexOf(open) + 1]) : ready(group) ? '✓ ' + words.done : fill(words.step, [at + 1, group.steps.length]);
    if (group.svg) {
      group.zoom.hidden = !here.node.dataset.first;
      group.zoom.setAttribute('aria-pressed', String(enlarged));
      light(group.svg, here, count);
    }
  }

  // The picture: what is done grey, this step's cuts red, the next one heavy; what is on the saw framed, the stop, and what comes off filled.
  function light(svg, step, count) {
    list('.made', svg).forEach(function (node) { node.remove(); });
    var first = +step.node.dataset.first || 0, last = +step.node.dataset.last || 0, finished = count >= step.most;
    var now = first && !finished ? first + count % step.each : 0, cut = null;
    list('.cut', svg).forEach(function (node) {
      var at = +node.dataset.cut, row = first && at >= first && at <= last;
      node.classList.toggle('row', !!row && at > now && !finished);
      node.classList.toggle('now', at === now);
      node.classList.toggle('gone', first ? at < first || (row && (finished || at < now)) : true);
      if (at === now) { cut = node; }
    });
    list('.keep', svg).forEach(function (node) { node.classList.toggle('lit', !!step.node.dataset.keep && node.dataset.keep === step.node.dataset.keep); });
    var whole = svg.dataset.whole || (svg.dataset.whole = svg.getAttribute('viewBox')), on = cut && cut.dataset.on ? cut.dataset.on.split(' ').map(Number) : null;
    var view = whole.split(' ').map(Number), edge = view[2] * 0.02;
    view = [view[0] - edge, view[1] - edge, view[2] + 2 * edge, view[3] + 2 * edge];
    if (enlarged && on) { view = near(on, box(cut), view); }
    svg.setAttribute('viewBox', view.join(' '));
    if (on) { frame(svg, cut, on); }
    names(svg, view, cut);
  }
  function box(node) { return ['x', 'y', 'width', 'height'].map(function (name) { return +node.getAttribute(name); }); }
  function make(svg, kind, values, before) {
    var node = document.createElementNS('http://www.w3.org/2000/svg', kind);
    Object.keys(values).forEach(function (name) { node.setAttribute(name, values[name]); });
    node.setAttribute('class', 'made ' + (values['class'] || ''));
    svg.insertBefore(node, before || null);
    return node;
  }
  function frame(svg, cut, on) {
    var edge = cut.dataset.edge, kerf = box(cut), x = on[0], y = on[1], wide = on[2], tall = on[3];
    var take = edge === 'left' ? [x, y, kerf[0] - x, tall] : edge === 'right' ? [kerf[0] + kerf[2], y, x + wide - kerf[0] - kerf[2], tall]
      : edge === 'top' ? [x, y, wide, kerf[1] - y] : [x, kerf[1] + kerf[3], wide, y + tall - kerf[1] - kerf[3]];
    var line = edge === 'left' ? [x, y, x, y + tall] : edge === 'right' ? [x + wide, y, x + wide, y + tall] : edge === 'top' ? [x, y, x + wide, y] : [x, y + tall, x + wide, y + tall];
    var firstCut = svg.querySelector('.cut');
    make(svg, 'rect', { 'class': 'take', x: take[0], y: take[1], width: Math.max(0, take[2]), height: Math.max(0, take[3]) }, firstCut);
    make(svg, 'rect', { 'class': 'onsaw', x: x, y: y, width: wide, height: tall }, firstCut);
    make(svg, 'line', { 'class': 'stop', x1: line[0], y1: line[1], x2: line[2], y2: line[3] });
  }
  // The metal on the saw; of a long one the part around the cut.
  function near(on, kerf, whole) {
    var wide = on[2], tall = on[3], x = on[0], y = on[1];
    if (wide > 6 * tall) { var w = 6 * tall; x = Math.max(x, Math.min(kerf[0] - w / 2, x + wide - w)); wide = w; }
    if (tall > 6 * wide) { var h = 6 * wide; y = Math.max(y, Math.min(kerf[1] - h / 2, y + tall - h)); tall = h; }
    var edge = Math.max(wide, tall) * 0.06;
    return [x - edge, y - edge, wide + 2 * edge, tall + 2 * edge];
  }
  // Names where they can be read: 13 px and more, whole within their piece.
  function names(svg, view, cut) {
    var space = svg.getBoundingClientRect(), unit = Math.max(view[2] / Math.max(1, space.width), view[3] / Math.max(1, space.height)), size = 13 * unit;
    list('rect[data-name]', svg).forEach(function (node) {
      var at = box(node), text = node.dataset.name, need = text.length * size * 0.68;
      if (at[3] < size * 1.1 || at[2] < need) { return; }
      var large = Math.min(at[3] * 0.5, at[2] / (text.length * 0.8), 26 * unit);
      make(svg, 'text', { x: at[0] + at[2] / 2, y: at[1] + at[3] / 2, 'font-size': Math.max(size, large) }).textContent = text;
    });
    if (cut && cut.dataset.strip) {
      var on = cut.dataset.on.split(' ').map(Number), tall = 24 * unit;
      make(svg, 'text', { x: Math.min(Math.max(on[0] + on[2] - tall, view[0] + tall), view[0] + view[2] - tall), y: on[1] + on[3] / 2, 'font-size': tall }).textContent = cut.dataset.strip;
    }
  }

  function go(step) {
    here = step;
    keep('-at', step.id);
    body.classList.add('one');
    byId('view').textContent = words.list;
    byId('view').setAttribute('aria-pressed', 'false');
    show();
    window.scrollTo(0, 0);
    document.querySelector('main').scrollTop = 0;
  }
  function all() {
    body.classList.remove('one');
    byId('view').textContent = words.one;
    groups.forEach(function (group) { fold(group, ready(group) || (here && groupOf(here) !== group)); if (group.svg) { reset(group.svg); } });
    byId('where').textContent = '';
    show();
    if (here) { here.node.scrollIntoView({ block: 'center' }); }
  }
  function reset(svg) { if (svg.dataset.whole) { svg.setAttribute('viewBox', svg.dataset.whole); } list('.made', svg).forEach(function (node) { node.remove(); }); list('.cut', svg).forEach(function (node) { node.classList.remove('now', 'row', 'gone'); }); }
  function fold(group, folded) { group.node.classList.toggle('folded', !!folded); group.head.setAttribute('aria-expanded', String(!folded)); }
  function beside(by) { var next = steps[steps.indexOf(here) + by]; if (next) { go(next); } }
  // After the last step of a layout: the first open step of the next one, as it may have been begun.
  function onward() {
    var group = groupOf(here), last = group.steps[group.steps.length - 1] === here, next = groups[groups.indexOf(group) + 1];
    if (last && next) { go(firstOpen(next) || next.steps[0]); } else { beside(1); }
  }
  // The layout in hand: begun and not finished; else where one was; else the first that is open.
  function begin() {
    var asked = location.hash.slice(1), named = steps.filter(function (step) { return step.id === asked; })[0];
    var layout = groups.filter(function (group) { return group.node.id === asked; })[0];
    if (named) { return named; }
    if (layout) { return firstOpen(layout) || layout.steps[0]; }
    var last = kept('-at', ''), was = steps.filter(function (step) { return step.id === last; })[0];
    if (was && !ready(groupOf(was))) { return isDone(was) ? firstOpen(groupOf(was)) : was; }
    var begun = groups.filter(function (group) { return group.minutes > 0 && !ready(group) && group.steps.some(function (step) { return done(step) > 0; }); })[0];
    var open = begun || groups.filter(function (group) { return !ready(group); })[0];
    return open ? firstOpen(open) : was || steps[0];
  }

  // The screen stays awake where the browser allows it.
  var lock = null;
  function wake() {
    if (navigator.wakeLock && !lock && document.visibilityState === 'visible') {
      lock = navigator.wakeLock.request('screen').then(function (held) { held.addEventListener('release', function () { lock = null; }); }, function () { lock = null; });
    }
  }
  document.addEventListener('visibilitychange', wake);
  document.addEventListener('click', wake);

  byId('more').addEventListener('click', function () { change(here, 1); });
  byId('less').addEventListener('click', function () { change(here, -1); });
  byId('all').addEventListener('click', function () { changeAll([{ step: here, to: here.most }], fill(words.ticked, [here.most])); });
  byId('clear').addEventListener('click', function () { changeAll(steps.map(function (step) { return { step: step, to: 0 }; }), words.cleared); });
  byId('undo').addEventListener('click', function () { if (undo) { undo.back(); } });
  byId('back').addEventListener('click', function () { beside(-1); });
  byId('next').addEventListener('click', onward);
  byId('first').addEventListener('click', function () { var open = firstOpen(groupOf(here)); if (open) { go(open); } });
  byId('view').addEventListener('click', function () { if (body.classList.contains('one')) { all(); } else { go(here); } });
  groups.forEach(function (group) {
    group.head.addEventListener('click', function () { if (body.classList.contains('one')) { all(); } else { fold(group, !group.node.classList.contains('folded')); } });
    if (group.svg) { group.zoom.addEventListener('click', function () { enlarged = !enlarged; showOne(); }); }
  });
  steps.forEach(function (step) { step.node.querySelector('.open').addEventListener('click', function (event) { event.preventDefault(); go(step); }); });
  document.addEventListener('keydown', function (event) {
    if (!body.classList.contains('one') || event.ctrlKey || event.altKey || event.metaKey) { return; }
    if (event.key === 'ArrowRight') { onward(); } else if (event.key === 'ArrowLeft') { beside(-1); } else if (event.key === '+') { change(here, 1); } else if (event.key === '-') { change(here, -1); }
  });
  window.addEventListener('resize', function () { if (here && body.classList.contains('one')) { showOne(); } });
  document.querySelector('footer').hidden = false;
  byId('view').hidden = false;
  body.classList.add('live');
  if (steps.length) { go(begin()); }
})();
