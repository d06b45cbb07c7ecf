namespace Nest.Judge.Jobs;

/// <summary>A generator of its own, so that a seed means the same job on any machine and runtime.</summary>
/// <remarks>SplitMix64: Steele, Lea, Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014 (constants from memory).</remarks>
internal sealed class JudgeRandom(ulong seed)
{
    // The seed is mixed first: the generator walks in equal steps, and neighbouring seeds would share most of their numbers.
    private ulong _state = Mix(unchecked(seed + 0xD1B54A32D192ED03UL));

    /// <summary>From 0 to below the limit.</summary>
    public int Below(int limit)
    {
        unchecked
        {
            _state += 0x9E3779B97F4A7C15UL;
        }

        return (int)((Mix(_state) >> 33) % (uint)limit);
    }

    /// <summary>Both ends included.</summary>
    public int From(int least, int most) => least + Below(most - least + 1);

    /// <summary>True so many times in a hundred.</summary>
    public bool Percent(int chance) => Below(100) < chance;

    /// <summary>One of these.</summary>
    public T Pick<T>(params ReadOnlySpan<T> choices) => choices[Below(choices.Length)];

    private static ulong Mix(ulong state)
    {
        unchecked
        {
            var mixed = (state ^ (state >> 30)) * 0xBF58476D1CE4E5B9UL;
            mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EBUL;
            return mixed ^ (mixed >> 31);
        }
    }
}
