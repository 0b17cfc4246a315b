using System.Text;

namespace PackCare.Cli.Output;

/// <summary>Names of enum members as programs and users write them: lower case, hyphens between words.</summary>
internal static class Words
{
    /// <summary>The word for a member: <c>AlreadyImported</c> becomes <c>already-imported</c>.</summary>
    public static string Of(Enum member)
    {
        string name = member.ToString();
        var word = new StringBuilder(name.Length + 4);
        for (int i = 0; i < name.Length; i++)
        {
            if (char.IsUpper(name[i]) && i > 0)
            {
                word.Append('-');
            }

            word.Append(char.ToLowerInvariant(name[i]));
        }

        return word.ToString();
    }

    /// <summary>The word for a chemistry, which the trade writes without hyphens: <c>lipo</c>, <c>lihv</c>.</summary>
    public static string Of(Core.Packs.Chemistry chemistry) => chemistry.ToString().ToLowerInvariant();
}
