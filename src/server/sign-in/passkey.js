// Asks the browser for a passkey: to sign in with one, or to add one. The only script of these pages.
const options = {
  'sign-in': { ask: '/sign-in/passkey-options', send: '/sign-in/passkey', verb: 'get' },
  add: { ask: '/profile/passkey-options', send: '/profile/passkey', verb: 'create' },
};

async function run(button) {
  const { ask, send, verb } = options[button.dataset.passkey];
  const given = await (await fetch(ask, { credentials: 'same-origin' })).json();
  const publicKey =
    verb === 'get'
      ? PublicKeyCredential.parseRequestOptionsFromJSON(given)
      : PublicKeyCredential.parseCreationOptionsFromJSON(given);
  const credential = await navigator.credentials[verb]({ publicKey });
  const answer = await fetch(send, {
    method: 'POST',
    credentials: 'same-origin',
    headers: { 'Content-Type': 'application/json', 'X-Call-Desk': 'page' },
    body: JSON.stringify({ response: credential.toJSON() }),
  });
  if (!answer.ok) throw new Error('refused');
  location.assign(button.dataset.then);
}

for (const button of document.querySelectorAll('button[data-passkey]')) {
  button.hidden = !('PublicKeyCredential' in window && 'parseCreationOptionsFromJSON' in PublicKeyCredential);
  button.addEventListener('click', () => {
    run(button).catch(() => {
      const said = button.parentElement.querySelector('[role=status]');
      said.textContent = said.dataset.wrong;
    });
  });
}
