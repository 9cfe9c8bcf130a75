/** The provider's webhooks of a voice call: each is signed, each answers in its language, whatever happens. */
import express, { Router, type Request, type RequestHandler, type Response } from 'express';
import type { Fault } from '../basics/fault.ts';
import type { Result } from '../basics/result.ts';
import { readAddress, type Address } from './address.ts';
import { broken, brokenLeg } from './broken.ts';
import { tokenOf, type Came } from './came.ts';
import type { LineDeps } from './deps.ts';
import { dialled } from './dialled.ts';
import { callStatus } from './hung-up.ts';
import { callOf, incoming, numberOf } from './incoming.ts';
import { readReply, type Params } from './read-reply.ts';
import { replyToBorn, replyToDay, replyToOperation } from './reply-identity.ts';
import { replyToQuestion, replyToReadBack } from './reply-question.ts';
import { replyToSaidBack, replyToTextOffer } from './reply-said-back.ts';
import { signedOnly } from './signature.ts';
import type { Spoken } from './spoken.ts';
import { saidBefore } from './take-turn.ts';
import { twiml } from './twiml.ts';
import { accept, whisper } from './whisper.ts';
import { toPerson } from './wishes.ts';

const BODY_LIMIT = '64kb';
/** A call that goes round in circles ends with a person: forty questions, each put twice, and some more. */
const TURNS_AT_MOST = 100;

export function lineRoutes(deps: LineDeps): Router {
  const router = Router();
  router.use('/line', express.urlencoded({ extended: false, limit: BODY_LIMIT }), signedOnly(deps));
  router.post(
    '/line/incoming',
    spoken(deps, (params) => incoming(deps, params)),
  );
  router.post(
    '/line/turn',
    spoken(deps, (params, address) => turnOf(deps, params, address)),
  );
  router.post(
    '/line/dial',
    spoken(deps, (params, address) => dialOf(deps, params, address)),
  );
  router.post(
    '/line/whisper',
    leg(deps, (_params, address) => whisper(deps, address)),
  );
  router.post(
    '/line/accept',
    leg(deps, (params, address) => accept(deps, address, params)),
  );
  router.post('/line/status', status(deps));
  router.use(
    '/line',
    (error: unknown, _request: Request, response: Response, next: (e?: unknown) => void) => {
      if (response.headersSent) {
        next(error);
        return;
      }
      deps.broke(error);
      response.status(200).type('text/xml').send(broken(deps));
    },
  );
  return router;
}

type Speaking = (params: Params, address: Address | null) => Promise<Result<Spoken, Fault>>;

function spoken(deps: LineDeps, speak: Speaking): RequestHandler {
  return async (request, response) => {
    const said = await speak(paramsOf(request), readAddress(request.query));
    response.type('text/xml').send(said.ok ? twiml(said.value, deps.voice) : broken(deps));
  };
}

type OnLeg = (params: Params, address: Address) => Promise<Result<string, Fault>>;

function leg(deps: LineDeps, answer: OnLeg): RequestHandler {
  return async (request, response) => {
    const address = readAddress(request.query);
    const params = paramsOf(request);
    const said = address === null ? null : await guarded(deps, () => answer(params, address));
    response.type('text/xml').send(said?.ok === true ? said.value : brokenLeg());
  };
}

/** On this leg a defect must not dial anybody: the leg ends, and the caller's own goes on. */
async function guarded(
  deps: LineDeps,
  answer: () => Promise<Result<string, Fault>>,
): Promise<Result<string, Fault> | null> {
  try {
    return await answer();
  } catch (error) {
    deps.broke(error);
    return null;
  }
}

/** Never steers the call, so what fails here is only written down. */
function status(deps: LineDeps): RequestHandler {
  return async (request, response) => {
    const kept = await callStatus(deps, paramsOf(request));
    response.status(kept.ok ? 204 : 503).end();
  };
}

function paramsOf(request: Request): Params {
  return typeof request.body === 'object' && request.body !== null ? (request.body as Params) : {};
}

/** An address that belongs to another call than the one that asks is no turn of it. */
function isOwn(params: Params, address: Address | null): address is Address {
  return address !== null && callOf(params) === address.call;
}

async function turnOf(
  deps: LineDeps,
  params: Params,
  address: Address | null,
): Promise<Result<Spoken, Fault>> {
  if (!isOwn(params, address)) return incoming(deps, params);
  const token = tokenOf(address);
  const before = await saidBefore(deps, address.call, token);
  if (!before.ok) return before;
  if (before.value !== null) return { ok: true, value: before.value };
  const came = {
    address,
    token,
    number: numberOf(params),
    reply: readReply(params, address.single, deps.words),
  };
  return address.turn >= TURNS_AT_MOST ? toPerson(deps, came, { aside: 'other' }) : reply(deps, came);
}

async function dialOf(
  deps: LineDeps,
  params: Params,
  address: Address | null,
): Promise<Result<Spoken, Fault>> {
  if (!isOwn(params, address)) return incoming(deps, params);
  const before = await saidBefore(deps, address.call, tokenOf(address));
  if (!before.ok) return before;
  return before.value === null ? dialled(deps, address, params) : { ok: true, value: before.value };
}

function reply(deps: LineDeps, came: Came): Promise<Result<Spoken, Fault>> {
  switch (came.address.step) {
    case 'question':
      return replyToQuestion(deps, came);
    case 'confirm':
      return replyToReadBack(deps, came);
    case 'born':
      return replyToBorn(deps, came);
    case 'operation':
      return replyToOperation(deps, came);
    case 'day':
      return replyToDay(deps, came);
    case 'said-back':
      return replyToSaidBack(deps, came);
    case 'text':
      return replyToTextOffer(deps, came);
    case 'dial':
      return replyToQuestion(deps, came);
  }
}
