/** Where drawings look: shared by those that stand above each other on one scale. */
export class Viewport {
  /** Pixels for a millimetre; null shows the whole rail whatever the width. */
  scale = $state<number | null>(null);
  /** How far the drawings are scrolled [px]. */
  scrolled = $state(0);

  showWhole(): void {
    this.scale = null;
  }
}
