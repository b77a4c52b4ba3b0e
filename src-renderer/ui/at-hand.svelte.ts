/** What every part of every page must know of the season at hand; told by the frame. */
class AtHand {
  /** It is over, or this is a copy to look at: the engine refuses every change of it. */
  isReadOnly = $state(false)
}

export const atHand = new AtHand()
