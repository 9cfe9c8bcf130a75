/** Plays what the line says, one sentence after the other; without sound the words stand on the page all the same. */

let playing: AudioBufferSourceNode | null = null;
let context: AudioContext | null = null;

export async function play(text: string): Promise<void> {
  const response = await fetch(`/trial-phone/say?text=${encodeURIComponent(text)}`);
  if (!response.ok) return;
  context ??= new AudioContext();
  const sound = await context.decodeAudioData(await response.arrayBuffer());
  const node = context.createBufferSource();
  node.buffer = sound;
  node.connect(context.destination);
  playing = node;
  await new Promise<void>((resolve) => {
    node.addEventListener('ended', () => resolve());
    node.start();
  });
}

export function hush(): void {
  playing?.stop();
  playing = null;
}
