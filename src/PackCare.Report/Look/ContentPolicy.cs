using System.Security.Cryptography;
using System.Text;

namespace PackCare.Report.Look;

/// <summary>The content security policy of our pages.</summary>
internal static class ContentPolicy
{
    /// <summary>Allows one style sheet by its digest and nothing else: no script, no picture, no font, no request, no form, no frame.</summary>
    public static string Allowing(string style) =>
        $"default-src 'none'; style-src 'sha256-{Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(style)))}'; base-uri 'none'; form-action 'none'";
}
