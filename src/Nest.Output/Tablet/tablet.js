(function () {
  'use strict';
  var key = 'nest-' + document.body.dataset.plan;
  var boxes = Array.prototype.slice.call(document.querySelectorAll('.tick input'));
  var state = {};
  try { state = JSON.parse(localStorage.getItem(key) || '{}') || {}; } catch (e) { state = {}; }
  function save() { try { localStorage.setItem(key, JSON.stringify(state)); } catch (e) { /* private mode: ticks last until the page is closed */ } }
  function show() {
    var done = 0;
    boxes.forEach(function (box) { if (box.checked) { done++; } });
    document.querySelectorAll('.step').forEach(function (step) {
      step.classList.toggle('done', !step.querySelector('.tick input:not(:checked)'));
    });
    var count = document.getElementById('count');
    count.textContent = count.dataset.text.replace('{0}', done).replace('{1}', boxes.length);
  }
  boxes.forEach(function (box) {
    box.checked = state[box.id] === 1;
    box.addEventListener('change', function () {
      if (box.checked) { state[box.id] = 1; } else { delete state[box.id]; }
      save();
      show();
    });
  });
  document.getElementById('next').addEventListener('click', function () {
    var open = boxes.filter(function (box) { return !box.checked; })[0];
    if (open) { open.closest('.step').scrollIntoView({ block: 'center' }); open.focus({ preventScroll: true }); }
  });
  var reset = document.getElementById('reset');
  reset.addEventListener('click', function () {
    if (!confirm(reset.dataset.sure)) { return; }
    state = {};
    save();
    boxes.forEach(function (box) { box.checked = false; });
    show();
  });
  show();
})();
