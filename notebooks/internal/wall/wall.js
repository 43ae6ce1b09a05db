'use strict';
// Each view replaces the one before it. All of it is text or a picture, never
// markup.
const views = new EventSource('/views');
const at = id => document.getElementById(id);
views.onmessage = message => {
  const view = JSON.parse(message.data);
  at('says').textContent = view.says;
  at('trouble').textContent = view.trouble;
  at('picture').hidden = view.picture === '';
  at('picture').alt = view.alt;
  if (view.picture !== '') at('picture').src = view.picture;
  document.body.dataset.balls = view.balls;
};
views.onerror = () => { at('trouble').textContent = 'The program that follows the lesson has ended.'; };
