/* Plays one decoded sound: from any place, over and over without a gap.
   Seconds are the patient's: a sound made at half speed lasts twice as long by the clock. */
let context;

/* Only ever called after a click or a key, as browsers ask. */
function audio() {
  context ??= new AudioContext();
  context.resume();
  return context;
}

async function decoded(address) {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`The sound answered ${answer.status}.`);
  return audio().decodeAudioData(await answer.arrayBuffer());
}

/* The first of the addresses that can be had and decoded. */
async function firstOf(addresses) {
  let last;
  for (const address of addresses) {
    try {
      return await decoded(address);
    } catch (error) {
      last = error;
    }
  }
  throw last;
}

export class Loop {
  repeats = false;
  rate = 1;
  volume = 0.25;
  #buffers = new Map();
  #buffer = null;
  #source = null;
  #gain = null;
  #asked = "";
  #at = 0;
  #since = 0;

  constructor(onEnd) {
    this.onEnd = onEnd;
  }

  get isPlaying() {
    return this.#source !== null;
  }

  get seconds() {
    return (this.#buffer?.duration ?? 0) * this.rate;
  }

  /* Where the sound is. */
  get position() {
    if (!this.isPlaying) return this.#at;
    const gone = this.#at + (context.currentTime - this.#since) * this.rate;
    return this.repeats ? gone % this.seconds : Math.min(gone, this.seconds);
  }

  /* The sound of the first address that can be had, made at this rate; the last asked for stands. */
  async load(addresses, rate) {
    const key = addresses.join(" ");
    this.#asked = key;
    if (!this.#buffers.has(key)) this.#buffers.set(key, firstOf(addresses));
    const buffer = await this.#buffers.get(key);
    if (this.#asked !== key || this.#buffer === buffer) return;
    this.#again(() => {
      this.#buffer = buffer;
      this.rate = rate;
    });
  }

  play() {
    if (!this.#buffer || this.isPlaying) return;
    if (this.#at >= this.seconds) this.#at = 0;
    const source = audio().createBufferSource();
    this.#gain = new GainNode(context, { gain: this.volume });
    Object.assign(source, { buffer: this.#buffer, loop: this.repeats });
    source.connect(this.#gain).connect(context.destination);
    source.addEventListener("ended", () => this.#ended(source));
    source.start(0, this.#at / this.rate);
    this.#source = source;
    this.#since = context.currentTime;
  }

  pause() {
    if (!this.isPlaying) return;
    const source = this.#source;
    this.#at = this.position;
    this.#source = null;
    source.stop();
  }

  seek(seconds) {
    this.#again(() => { this.#at = Math.min(Math.max(seconds, 0), this.seconds); });
  }

  setRepeats(repeats) {
    this.#again(() => { this.repeats = repeats; });
  }

  setVolume(volume) {
    this.volume = volume;
    if (this.#gain) this.#gain.gain.value = volume;
  }

  #ended(source) {
    if (source !== this.#source) return;
    this.#source = null;
    this.#at = 0;
    this.onEnd();
  }

  /* Changes something with the sound stopped, and goes on where it was. */
  #again(change) {
    const wasPlaying = this.isPlaying;
    this.pause();
    change();
    if (wasPlaying) this.play();
  }
}
