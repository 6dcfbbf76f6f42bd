using Microsoft.Extensions.Localization;
using Rootwater.Growing.Cupboard;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Pages.Cupboard;

/// <summary>Names of the hazards, for a pill; the full cautions come from the growing floor.</summary>
internal static class HazardWords
{
    public static string Short(Hazards hazards, IStringLocalizer<CupboardText> words) => string.Join(", ",
        Enum.GetValues<Hazards>().Where(hazard => hazard != Hazards.None && hazards.HasFlag(hazard)).Select(hazard => words["Hazard" + hazard].Value));
}
