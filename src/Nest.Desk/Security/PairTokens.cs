namespace Nest.Desk.Security;

/// <summary>The one token that pairs the next device. The whole network can try, so each wrong try makes all wait: 1, 2, 4, 8 seconds.</summary>
internal sealed class PairTokens(TimeProvider time) : EntryTokens(time)
{
    protected override TimeSpan Wait(int misses) => TimeSpan.FromSeconds(1 << (misses - 1));
}
