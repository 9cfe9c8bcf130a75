/** Lint: what types cannot see. Time, chance, timers, console and environment are each touched by their owner only. */
import { join } from 'node:path';
import eslint from '@eslint/js';
import tseslint from 'typescript-eslint';

const root = join(import.meta.dirname, '..', '..');

/** Who may touch what. Everybody else gets it passed in. */
const owners = {
  time: ['src/basics/system-clock.ts', 'src/web/client/browser.ts'],
  timers: ['src/basics/system-clock.ts', 'src/web/client/browser.ts'],
  chance: ['src/basics/ids.ts', 'src/store/sealing.ts', 'src/web/client/browser.ts'],
  console: ['src/terminal/screen.ts'],
  environment: ['src/server/config.ts'],
};

const touched = {
  time: [
    "MemberExpression[object.name='Date'][property.name='now']",
    "NewExpression[callee.name='Date'][arguments.length=0]",
    "CallExpression[callee.name='Date']",
    "MemberExpression[object.name='Temporal'][property.name='Now']",
    "MemberExpression[object.name='performance']",
    "MemberExpression[object.name='process'][property.name=/^(hrtime|uptime)$/]",
  ],
  timers: [
    'CallExpression[callee.name=/^set(Timeout|Interval)$/]',
    "MemberExpression[object.name='globalThis'][property.name=/^set(Timeout|Interval)$/]",
    'ImportDeclaration[source.value=/^(node:)?timers/]',
  ],
  chance: [
    "MemberExpression[object.name='Math'][property.name='random']",
    'MemberExpression[property.name=/^(randomUUID|randomBytes|randomInt|randomFill|randomFillSync|getRandomValues)$/]',
    'ImportDeclaration[source.value=/^(node:)?crypto$/] ImportSpecifier[imported.name=/^(random|getRandom|webcrypto)/]',
    "ImportDeclaration[source.value='uuid']",
  ],
  console: [
    "MemberExpression[object.name='console']",
    "MemberExpression[object.name='process'][property.name=/^(stdout|stderr|stdin)$/]",
  ],
  environment: [
    "MemberExpression[object.name='process'][property.name='env']",
    'ImportDeclaration[source.value=/^(node:)?process$/]',
  ],
};

const subjects = Object.keys(touched);

const shape = [
  { selector: 'ExportDefaultDeclaration', message: 'Export by name.' },
  { selector: 'ExportAllDeclaration', message: 'Export by name; no barrels.' },
  { selector: 'TSEnumDeclaration', message: 'Use a union of text literals.' },
];

const clinicalShape = [
  {
    selector: 'SwitchCase[test=null]',
    message: 'Clinical code has no default: give every value a case of its own.',
  },
];

/** The restrictions on all subjects but the ones given. */
function restricted(free, extra = []) {
  const subject = subjects.filter((name) => !free.includes(name));
  const entries = subject.flatMap((name) =>
    touched[name].map((selector) => ({
      selector,
      message: `Only ${owners[name].join(', ')} may touch ${name}.`,
    })),
  );
  return { 'no-restricted-syntax': ['error', ...shape, ...extra, ...entries] };
}

/** One block per owning file, which is free of what it owns. */
const ownerBlocks = [...new Set(Object.values(owners).flat())].map((file) => ({
  files: [file],
  rules: restricted(subjects.filter((name) => owners[name].includes(file))),
}));

export default tseslint.config(
  { ignores: ['**/*.js'] },
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  {
    files: ['**/*.ts', '**/*.tsx'],
    extends: [eslint.configs.recommended, tseslint.configs.strictTypeChecked],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: root } },
    rules: {
      'max-params': ['error', 4],
      eqeqeq: 'error',
      '@typescript-eslint/consistent-type-imports': ['error', { fixStyle: 'separate-type-imports' }],
      '@typescript-eslint/no-import-type-side-effects': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: false, requireDefaultForNonUnion: false },
      ],
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      '@typescript-eslint/prefer-promise-reject-errors': ['error', { allowThrowingUnknown: true }],
      // Spreading a text into its code points is what search wants.
      '@typescript-eslint/no-misused-spread': ['error', { allow: ['string'] }],
      // A matter of taste, and the brand of an id is named by the caller of `newId`.
      '@typescript-eslint/no-confusing-void-expression': 'off',
      '@typescript-eslint/no-unnecessary-type-parameters': 'off',
      // Interfaces that promise stay promises where an implementation has nothing to wait for.
      '@typescript-eslint/require-await': 'off',
      // The compiler does this one, with the underscore convention.
      '@typescript-eslint/no-unused-vars': 'off',
      ...restricted([]),
    },
  },
  {
    files: ['src/{clinical,understand,flow,call,prove,follow}/**/*.ts'],
    rules: restricted([], clinicalShape),
  },
  ...ownerBlocks,
  {
    files: ['tests/**/*.ts'],
    rules: {
      ...restricted(['console', 'environment']),
      // A table of cases hands each column to its test as an argument.
      'max-params': 'off',
      // Bodies of answers and parsed output are untyped until a test has looked at them.
      '@typescript-eslint/no-unsafe-argument': 'off',
      '@typescript-eslint/no-unsafe-assignment': 'off',
      '@typescript-eslint/no-unsafe-call': 'off',
      '@typescript-eslint/no-unsafe-member-access': 'off',
      '@typescript-eslint/no-unsafe-return': 'off',
    },
  },
  // Benchmarks measure; one file of theirs holds the clock.
  { files: ['tests/bench/stopwatch.ts'], rules: restricted(['console', 'environment', 'time']) },
  { files: ['tests/**/vitest.config.ts'], rules: { 'no-restricted-syntax': 'off' } },
);
