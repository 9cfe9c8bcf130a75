/** Talks to a running desk over HTTP; every good answer is held against the contract's schema. */
import request, { type Response } from 'supertest';
import { expect } from 'vitest';
import type { z } from 'zod';
import { newId } from '../../src/basics/ids.ts';
import { faultSchema } from '../../src/desk/contract/common.ts';
import { callViewSchema, turnAnswerSchema } from '../../src/desk/contract/call-view.ts';
import type { CallView, QuestionShape, TurnAnswer } from '../../src/desk/contract/call-view.ts';
import type { DeskInput } from '../../src/desk/contract/turns.ts';
import type { Desk } from './a-desk.ts';

/** Marisol Quennell of the demo: breast lift with tummy tuck, two days ago. */
export const QUENNELL = {
  patient: '01980000-0000-7000-8000-000000000101',
  operation: '01980000-0000-7000-8000-000000000201',
} as const;

export async function get(desk: Desk, path: string): Promise<Response> {
  return request(desk.address)
    .get(path)
    .set('Cookie', await desk.cookie());
}

export async function getAs<TAnswer>(desk: Desk, path: string, schema: z.ZodType<TAnswer>): Promise<TAnswer> {
  const response = await get(desk, path);
  expect(response.status, response.text).toBe(200);
  return schema.parse(response.body);
}

export async function post(desk: Desk, path: string, body: string | object): Promise<Response> {
  return request(desk.address)
    .post(path)
    .set('Cookie', await desk.cookie())
    .set('X-Call-Desk', 'test')
    .set('Content-Type', 'application/json')
    .send(body);
}

/** The code of a fault, with the status that it came with. */
export function faultOf(response: Response): { readonly status: number; readonly code: string } {
  return { status: response.status, code: faultSchema.parse(response.body).fault.code };
}

export async function startCall(desk: Desk, changes: object = {}): Promise<CallView> {
  const response = await post(desk, '/api/calls', startBody(changes));
  expect(response.status, response.text).toBe(200);
  return turnAnswerSchema.parse(response.body).view;
}

export function startBody(changes: object = {}): object {
  return {
    call: newId(),
    token: newId(),
    callerNumber: null,
    direction: 'patient-rang',
    chosen: QUENNELL,
    ...changes,
  };
}

export function sendTurn(
  desk: Desk,
  call: string,
  input: unknown,
  token: string = newId(),
): Promise<Response> {
  return post(desk, `/api/calls/${call}/turns`, { token, input: input as object });
}

export async function turn(desk: Desk, call: string, input: DeskInput): Promise<TurnAnswer> {
  const response = await sendTurn(desk, call, input);
  expect(response.status, response.text).toBe(200);
  return turnAnswerSchema.parse(response.body);
}

export function view(desk: Desk, call: string): Promise<CallView> {
  return getAs(desk, `/api/calls/${call}`, callViewSchema);
}

/** The answer of somebody with nothing wrong; `say` gives others by question. */
export function usualAnswer(
  question: QuestionShape,
  say: Readonly<Record<string, string | number>>,
): DeskInput {
  const { id, kind, fact, number, options } = question;
  const said = say[id];
  if (kind === 'fact') {
    const text = said === undefined ? '07700 900101' : String(said);
    return fact === 'opening' ? { kind: 'opening', text } : { kind: 'fact', question: id, text };
  }
  const no = options.find(({ value }) => value === 'no') ?? options[0];
  const value = said ?? (number === null ? no?.value : id === 'temperature' ? 36.8 : 'unsure');
  return { kind: 'answer', question: id, value: value ?? 'no', correction: null };
}

/** Answers until this question is asked, or the questions are over. */
export async function answerUntil(
  desk: Desk,
  call: CallView,
  { until = '', say = {} }: { until?: string; say?: Readonly<Record<string, string | number>> },
): Promise<CallView> {
  let now = call;
  while (now.question !== null && now.question.id !== until) {
    now = (await turn(desk, now.id, usualAnswer(now.question, say))).view;
  }
  return now;
}
