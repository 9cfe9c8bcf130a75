/**
 * The hazard list in the form that DCB0129, DCB0160 and ISO 14971 ask for: its shape, and the rating of each hazard by the
 * published five-by-five matrix. A rating is always computed, never written.
 */
import { z } from 'zod';
import { failed, ok, type Result } from '../basics/result.ts';
import { checkShape } from '../content/check-shape.ts';
import type { Diagnostic } from '../content/diagnostic.ts';
import type { TextFile } from '../content/read-folder.ts';
import { readYaml } from '../content/read-yaml.ts';
import { reporter } from './checks/report.ts';

/** How bad the harm is, mildest first. Death of one patient is major; of several, catastrophic. */
export const SEVERITIES = ['minor', 'significant', 'considerable', 'major', 'catastrophic'] as const;
export type Severity = (typeof SEVERITIES)[number];

/** How often it comes to that harm, rarest first. */
export const LIKELIHOODS = ['very-low', 'low', 'medium', 'high', 'very-high'] as const;
export type Likelihood = (typeof LIKELIHOODS)[number];

/** 5 unacceptable; 4 to be brought down; 3 only where less is not practical; 2 tolerable; 1 acceptable. */
export type Rating = 1 | 2 | 3 | 4 | 5;

/** The matrix of the guidance to DCB0129: by likelihood, the rating for each severity from minor to catastrophic. */
const MATRIX: Readonly<Record<Likelihood, Readonly<Record<Severity, Rating>>>> = {
  'very-high': { minor: 3, significant: 4, considerable: 4, major: 5, catastrophic: 5 },
  high: { minor: 2, significant: 3, considerable: 3, major: 4, catastrophic: 5 },
  medium: { minor: 2, significant: 2, considerable: 3, major: 3, catastrophic: 4 },
  low: { minor: 1, significant: 2, considerable: 2, major: 3, catastrophic: 4 },
  'very-low': { minor: 1, significant: 1, considerable: 2, major: 2, catastrophic: 3 },
};

export interface Risk {
  readonly severity: Severity;
  readonly likelihood: Likelihood;
}

export function ratingOf({ severity, likelihood }: Risk): Rating {
  return MATRIX[likelihood][severity];
}

const text = z.string().trim().min(1);
const risk = z.strictObject({ severity: z.enum(SEVERITIES), likelihood: z.enum(LIKELIHOODS) });

const hazardSchema = z.strictObject({
  id: z.string().regex(/^[a-z0-9][a-z0-9-]*$/, 'an id of small letters, digits and hyphens'),
  /** What could go wrong, in one sentence. */
  hazard: text,
  cause: z.array(text).min(1),
  /** What it would do to a patient. */
  effect: text,
  before: risk,
  /** In the order of ISO 14971: safe by design, protective measures, information for safety. */
  controls: z
    .array(z.strictObject({ by: z.enum(['design', 'protection', 'information']), what: text }))
    .min(1),
  /** Tests that show the controls at work: the file and the title as it stands there. */
  'shown-by': z
    .array(z.strictObject({ file: z.string().regex(/^tests\/.+\.ts$/, 'a file below tests/'), title: text }))
    .min(1),
  after: risk,
  /** What risk is left. */
  left: text,
  /** Where a rating of 3 is left: why less is not practical. */
  'why-not-less': z.exactOptional(text),
  /** What the practice that uses the program has to do; handed over to it. */
  locally: z.array(text).min(1),
  /** The role that answers for it. */
  owner: z.enum(['clinical-safety-officer', 'surgeon', 'lead-nurse', 'flow-author', 'administrator']),
  /** controlled: as well as this version does; open: a control is still missing; accepted: by a safety officer. */
  status: z.enum(['open', 'controlled', 'accepted']),
});

/** `flows/hazards.yaml`. */
const hazardsSchema = z.strictObject({
  'intended-use': text,
  'not-for': z.array(text).min(1),
  standards: z.array(text).min(1),
  /** Who has reviewed the list; nobody until a clinical safety officer has. */
  'reviewed-by': z.string().trim().min(1).nullable(),
  hazards: z.array(hazardSchema).min(1),
});
export type HazardList = z.infer<typeof hazardsSchema>;

/** The list, or all that is wrong with it. A hazard is accepted by a named reviewer only, and no id stands twice. */
export function readHazards(file: TextFile): Result<HazardList, readonly Diagnostic[]> {
  const source = readYaml(file.file, file.text);
  if (!source.ok) return source;
  const data = checkShape(hazardsSchema, source.value);
  if (!data.ok) return data;
  const problems: Diagnostic[] = [];
  const report = reporter(problems);
  const seen = new Set<string>();
  for (const [at, { id, status }] of data.value.hazards.entries()) {
    const place = { source: source.value, path: ['hazards', at] };
    if (seen.has(id)) report('same-id', place, `The hazard "${id}" stands twice; each is accepted once.`);
    seen.add(id);
    if (status === 'accepted' && data.value['reviewed-by'] === null) {
      const message = `The hazard "${id}" stands as accepted and nobody has reviewed the list; open or controlled is accepted.`;
      report('wrong-shape', { ...place, path: [...place.path, 'status'] }, message);
    }
  }
  return problems.length > 0 ? failed(problems) : ok(data.value);
}
