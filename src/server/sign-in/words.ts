/** Every word of the pages around signing in. */

export const WORDS = {
  desk: 'Call desk',
  emergency: 'Emergency',
  signIn: {
    title: 'Sign in',
    name: 'Sign-in name',
    password: 'Password',
    go: 'Sign in',
    demo: 'This is a demonstration; the people are invented. The sign-ins were printed when it started.',
    refused: 'Name and password do not fit. Try again, or ask your administrator for a new link.',
    tooMany:
      'Too many wrong tries from here. Wait a quarter of an hour, or use a browser you have signed in with before.',
    down: 'Signing in does not work at the moment. Whoever is signed in can go on; ring the on-call clinician by telephone if a caller waits.',
    ended: 'Your session has ended. Sign in; the call was kept and goes on where it was.',
  },
  signedInAs: 'Signed in as',
  signOut: 'Sign out',
  toDesk: 'To the desk',
  refused: {
    'signed-out': 'Please sign in',
    'needs-second-factor': 'A second factor is needed',
    'not-allowed': 'Not for your role',
    'sign-in-down': 'Signing in does not work at the moment',
    'nothing-here': 'There is nothing here',
  },
  unreadable: 'The form could not be read. Go back and try once more.',
} as const;
