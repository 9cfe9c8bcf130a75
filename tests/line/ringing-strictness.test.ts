/** The simulator itself: what it refuses, and that it signs as the provider's own worked examples do. */
import { describe, expect, test } from 'vitest';
import { readDocument } from './simulator/read-document.ts';
import { sign } from './simulator/sign.ts';

const FORM = { CallSid: 'CA1234567890ABCDE', Digits: '1234', To: '+18005551212' };
const URL = 'https://mycompany.com/myapp.php?foo=1&bar=2';

describe('a signature', () => {
  // Twilio, "Webhooks security" and the documentation and tests of its Node library; the token is 12345.
  test.each([
    [URL, '+14158675309', 'RSOYDt4T1cUTdK1PDd93/VVr8B8='],
    [URL, '+12349013030', '0/KCTR6DLpKmkAf8muzZqo1nDgQ='],
    ['https://example.com/myapp.php?foo=1&bar=2', '+14158675310', 'L/OH5YylLD5NRKLltdqwSvS0BnU='],
  ])('of %s for %s is the published one', (url, from, signature) => {
    expect(sign('12345', url, { ...FORM, From: from, Caller: from })).toBe(signature);
  });

  test('leaves the fragment out', () => {
    expect(sign('12345', `${URL}#rc=2`, FORM)).toBe(sign('12345', URL, FORM));
  });
});

const GATHER = '<Gather action="/a" actionOnEmptyResult="true" timeout="5">';
const SAY = '<Say>Hello</Say>';
const said = (inner: string): string => `<?xml version="1.0" encoding="UTF-8"?><Response>${inner}</Response>`;

describe('a document', () => {
  test('that asks and takes silence for an answer is run', () => {
    expect(readDocument(said(`${SAY}${GATHER}${SAY}</Gather>`), 'caller')).toHaveLength(2);
  });

  // Twilio's voice documentation and its error codes 11750, 12100, 12102, 12200, 13201, 13320, 13330, 13335, 13520, 13521.
  test.each([
    ['not well-formed', '<Response><Say>Hello</Response>'],
    ['a blank before the declaration', ` ${said(SAY)}`],
    ['another root', '<Answer/>'],
    ['an unknown verb', said('<Speak>Hello</Speak><Hangup/>')],
    ['a verb in small letters', said('<say>Hello</say><Hangup/>')],
    ['an unknown attribute', said('<Gather action="/a" actiononEmptyResult="true" timeout="5"/>')],
    ['a Gather without action', said('<Gather actionOnEmptyResult="true" timeout="5"/>')],
    ['a Gather that silence falls through', said('<Gather action="/a" timeout="5"/><Hangup/>')],
    ['a Gather in a Gather', said(`${GATHER}${GATHER}</Gather></Gather>`)],
    ['a timeout of nothing', said('<Gather action="/a" actionOnEmptyResult="true" timeout="0"/>')],
    ['more hints than are taken', said(GATHER.replace('>', ` hints="${'a,'.repeat(500)}a">`) + '</Gather>')],
    ['a hint that is too long', said(GATHER.replace('>', ` hints="${'a'.repeat(101)}">`) + '</Gather>')],
    [
      'a Dial without action',
      said('<Dial timeout="20" callerId="+442079460100"><Number url="/w">+442079460101</Number></Dial>'),
    ],
    [
      'a Dial without a screen',
      said('<Dial action="/d" timeout="20" callerId="+442079460100"><Number>+442079460101</Number></Dial>'),
    ],
    ['an empty Say', said('<Say/><Hangup/>')],
    ['a Say that is too long', said(`<Say>${'a'.repeat(3001)}</Say><Hangup/>`)],
    ['a Say that is too long once encoded', said(`<Say>${'é'.repeat(800)}</Say><Hangup/>`)],
    ['a Say with a gap', said('<Say>Ring {emergency}</Say><Hangup/>')],
    ['an end that nobody meant', said(SAY)],
    ['nothing', said('')],
    ['verbs behind the end', said(`<Hangup/>${SAY}`)],
    ['more than 64 kB', said(`${`<Say>${'a'.repeat(2900)}</Say>`.repeat(23)}<Hangup/>`)],
  ])('with %s is refused', (_name, xml) => {
    expect(() => readDocument(xml, 'caller')).toThrow();
  });

  test('on the leg that is dialled may not dial', () => {
    const dial = said(
      '<Dial action="/d" timeout="20" callerId="+442079460100"><Number url="/w">+442079460101</Number></Dial>',
    );
    expect(readDocument(dial, 'caller')).toHaveLength(1);
    expect(() => readDocument(dial, 'dialled')).toThrow(/dialled/);
  });
});
